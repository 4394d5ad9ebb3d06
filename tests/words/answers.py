"""Answers of worksheets as tests ask for them: every text of one, and what of it went through no catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from station.drawing.marks import Label
from station.worksheets.form import Worked
from tests.words.unsaid import unsaid

SIGNS = ("kg/m³", "mg KOH/g", "g/eq", "kPa", "hPa")
"""Units that only worksheets tell."""


def texts_in(answer: Worked) -> Iterator[str]:
    """Every text that a person can read in an answer, those of its drawings too."""
    for row in answer.rows:
        yield from (row.label, row.value, row.rule)
    yield from (*answer.warnings, *answer.notes, *answer.cautions, *answer.onward.values())
    for table in answer.tables:
        yield from (table.title, *table.head, *(cell for row in table.rows for cell in row))
    for drawing in answer.drawings:
        yield from (drawing.title, drawing.spoken)
        yield from (mark.text for mark in drawing.marks if isinstance(mark, Label))


def unsaid_in(texts: Iterable[str], typed: Iterable[str] = ()) -> list[str]:
    """The texts with words that no catalogue was asked for; `typed` are names that the person wrote."""
    return unsaid("".join(f"<p>{escape(text)}</p>" for text in texts), sorted([*typed, *SIGNS], key=len, reverse=True))
