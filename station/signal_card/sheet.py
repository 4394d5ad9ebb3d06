"""The card as a drawing for a sheet of A4, standing: each rhythm drawn to one scale of time, its meaning beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from station.drawing.dimensions import wide
from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Mark
from station.drawing.marks import Line as Stroke
from station.signal_card.contents import Card, Line
from station.signal_card.tones import Tone, rhythm
from station.signals.patterns import Pattern, length_s
from station.texts import t

WIDTH, HEIGHT, MM = 840.0, 1188.0, 0.25
"""A4 standing, at four units to a millimetre."""
_EDGE, _WORDS_X, _RIGHT = 48.0, 338.0, 796.0
_S = 80.0
"""So wide is a second."""
_SIZE, _LEAD = 13.0, 17.0


def drawn(card: Card) -> Drawing:
    """The card as a drawing."""
    marks: list[Mark] = [
        Label(_EDGE, 60, t("What the bench says"), size=28, bold=True),
        Label(_RIGHT, 60, card.bench, Anchor.END, _SIZE),
    ]
    y = 78.0
    for title, block in (
        (t("Tones"), [*_tones(card.tones), *_presses(card.pours)]),
        (t("Alarms: again and again until answered"), _alarms(card.alarms)),
        (t("Lamps, while lit"), _lamps(card.lamps)),
        (t("Pedal and button"), _presses(card.presses)),
    ):
        if not block:
            continue
        marks += [Stroke(_EDGE, y, _RIGHT, y, Ink.FAINT), Label(_EDGE, y + 20, title, size=16, bold=True)]
        y += 30
        for height, at in block:
            marks += [_moved(mark, y) for mark in at]
            y += height
        y += 4
    marks.append(Label(_EDGE, HEIGHT - 28, card.last, size=12))
    return Drawing(t("What the bench says"), _spoken(card), WIDTH, HEIGHT, tuple(marks), MM)


_Block = Sequence[tuple[float, Sequence[Mark]]]
"""Rows with their heights; each row's marks are counted from its upper edge."""


def _tones(tones: Sequence[Tone]) -> _Block:
    rows: list[tuple[float, Sequence[Mark]]] = []
    for tone in tones:
        said = [line for meaning in tone.meanings for line in wrapped(meaning, _RIGHT - _WORDS_X)]
        beside = _EDGE + _S * length_s(tone.pattern) + 8
        marks = [*_pulses(tone.pattern), Label(beside, 16, rhythm(tone.pattern), size=11), *_lines(said, _WORDS_X, 16)]
        rows.append((len(said) * _LEAD + 5, marks))
    return rows


def _alarms(tones: Sequence[Tone]) -> _Block:
    rows: list[tuple[float, Sequence[Mark]]] = []
    for tone in tones:
        said = [line for meaning in tone.meanings for line in wrapped(meaning, _RIGHT - _EDGE)]
        rows.append((len(said) * _LEAD + 27, [*_pulses(tone.pattern), *_lines(said, _EDGE, 36)]))
    return rows


def _lamps(lamps: Sequence[Line]) -> _Block:
    return [(height, [Dot(_EDGE + 9, 12, 8), *marks]) for height, marks in (_pair(one, _EDGE + 28) for one in lamps)]


def _presses(presses: Sequence[Line]) -> _Block:
    return [_pair(one, _EDGE) for one in presses]


def _pair(one: Line, x: float) -> tuple[float, Sequence[Mark]]:
    said = wrapped(one.words, _RIGHT - _WORDS_X)
    return len(said) * _LEAD + 8, [Label(x, 16, one.name, size=_SIZE, bold=True), *_lines(said, _WORDS_X, 16)]


def _pulses(pattern: Pattern) -> Sequence[Mark]:
    """A full area for each pulse, on a line that goes on to the end of the round."""
    marks: list[Mark] = [Stroke(_EDGE, 12, _EDGE + _S * length_s(pattern), 12, Ink.FAINT)]
    at = 0.0
    for on, off in pattern:
        marks.append(Box(_EDGE + _S * at, 5, _S * on, 14, Ink.FILL))
        at += on + off
    return marks


def _lines(said: Sequence[str], x: float, y: float) -> Sequence[Mark]:
    return [Label(x, y + _LEAD * at, line, size=_SIZE) for at, line in enumerate(said)]


def wrapped(text: str, width: float, size: float = _SIZE) -> Sequence[str]:
    """The text in lines of at most `width`; a word that is longer stands alone."""
    lines: list[str] = []
    for word in text.split():
        if lines and wide(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _moved(mark: Mark, y: float) -> Mark:
    match mark:
        case Stroke():
            return replace(mark, y1=mark.y1 + y, y2=mark.y2 + y)
        case Box() | Dot() | Label():
            return replace(mark, y=mark.y + y)
        case _:
            raise TypeError(f"a card has no such mark: {mark}")


def _spoken(card: Card) -> str:
    tones = [f"{rhythm(tone.pattern)}: {'; '.join(tone.meanings)}." for tone in (*card.tones, *card.alarms)]
    return " ".join(
        (*tones, *(f"{one.name}: {one.words}" for one in (*card.pours, *card.lamps, *card.presses)), card.last)
    )
