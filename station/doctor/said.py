"""The findings for a terminal, aligned and no wider than it, and for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping, Sequence

from station.doctor.finding import Finding, Looked, Verdict, worst
from station.doctor.order import CHECKS
from station.doctor.titles import TITLES
from station.texts import t, tn

WIDTH = 80
_GAP = 2
_ARROW = "→ "

Paint = Callable[[Verdict, str], str]


def plain(_verdict: Verdict, word: str) -> str:
    """The word of a verdict without a colour."""
    return word


def lines_of(one: Looked, paint: Paint = plain, width: int = WIDTH) -> list[str]:
    """The lines of one check: verdict, title, what was found, and the cure below it.

    `paint` colours the verdict's word, which says it without a colour as well.
    """
    lines: list[str] = []
    for number, finding in enumerate(one.findings):
        title = one.title if number == 0 else ""
        lines += _lines(finding, title, paint, width)
    return lines


def in_short(checks: Sequence[Looked]) -> str:
    """All of it in a sentence or two."""
    found = [finding.verdict for one in checks for finding in one.findings]
    wrong, looks = found.count(Verdict.FAIL), found.count(Verdict.LOOK)
    told = [
        tn("{n} thing is wrong.", "{n} things are wrong.", wrong) if wrong else "",
        tn("{n} thing needs a look.", "{n} things need a look.", looks) if looks else "",
    ]
    return " ".join(filter(None, told)) or t("Nothing was found to be wrong.")


def as_dict(checks: Sequence[Looked], version: str) -> Mapping[str, object]:
    """For programs: the keys and verdicts stay the same in every language."""
    return {
        "version": version,
        "verdict": worst(checks).value,
        "checks": [
            {
                "check": one.key,
                "title": one.title,
                "findings": [
                    {"verdict": finding.verdict.value, "told": finding.told, "cure": finding.cure}
                    for finding in one.findings
                ],
            }
            for one in checks
        ],
    }


def _lines(finding: Finding, title: str, paint: Paint, width: int) -> list[str]:
    word = t(finding.verdict.word)
    words_end = max(len(t(verdict.word)) for verdict in Verdict) + _GAP
    titles_end = words_end + max(len(t(title)) for title in (*(check.title for check in CHECKS), *TITLES)) + _GAP
    head = f"{paint(finding.verdict, word)}{' ' * (words_end - len(word))}{title:<{titles_end - words_end}}"
    room = max(20, width - titles_end)
    body = [line for part in finding.told.splitlines() for line in _wrapped(part, room)] or [""]
    for part in finding.cure.splitlines():
        cure = _wrapped(part, room - len(_ARROW))
        body += [f"{_ARROW if number == 0 else ' ' * len(_ARROW)}{line}" for number, line in enumerate(cure)]
    return [f"{head if number == 0 else ' ' * titles_end}{line}".rstrip() for number, line in enumerate(body)]


def _wrapped(text: str, room: int) -> list[str]:
    # An address or a path stays in one piece, so that it can be copied.
    return textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=False)
