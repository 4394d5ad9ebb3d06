"""What the doctor found about one thing: a verdict, a sentence, and the cure. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from station.texts import N_


class Verdict(Enum):
    """How one thing stands, the best first. The value is for programs, `word` for people."""

    PASS = "pass"
    LOOK = "look"
    FAIL = "fail"

    @property
    def word(self) -> str:
        """The verdict in English, for a catalogue to translate."""
        return _WORDS[self]


_WORDS = {Verdict.PASS: N_("PASS"), Verdict.LOOK: N_("LOOK"), Verdict.FAIL: N_("FAIL")}
_ORDER = tuple(Verdict)


@dataclass(frozen=True, slots=True)
class Finding:
    """`told` says how the thing stands, `cure` what to do about it; both are whole sentences as they are read.

    `names` are texts within them that somebody who helps from outside need not see: a name in the network, a folder,
    the mistakes of a settings file word by word.
    """

    verdict: Verdict
    told: str
    cure: str = ""
    names: tuple[str, ...] = ()

    def without_names(self) -> Finding:
        """The same for others' eyes: dots in place of each name."""
        return Finding(self.verdict, _dotted(self.told, self.names), _dotted(self.cure, self.names))


@dataclass(frozen=True, slots=True)
class Looked:
    """One check that was made: its lasting `key`, its `title` for people, and what it found."""

    key: str
    title: str
    findings: tuple[Finding, ...]


def passed(told: str, *, names: Sequence[str] = ()) -> Finding:
    """It is as it should be, or nothing is asked of it."""
    return Finding(Verdict.PASS, told, names=tuple(names))


def look(told: str, cure: str = "", *, names: Sequence[str] = ()) -> Finding:
    """Somebody ought to look at it; the station works, or may work."""
    return Finding(Verdict.LOOK, told, cure, tuple(names))


def failed(told: str, cure: str, *, names: Sequence[str] = ()) -> Finding:
    """It is wrong, and the station or a part of it does not work."""
    return Finding(Verdict.FAIL, told, cure, tuple(names))


def worst(checks: Sequence[Looked]) -> Verdict:
    """The worst verdict of them all; PASS where nothing was looked at."""
    found = [finding.verdict for one in checks for finding in one.findings]
    return max(found, key=_ORDER.index, default=Verdict.PASS)


def _dotted(text: str, names: Sequence[str]) -> str:
    for name in sorted(filter(None, names), key=len, reverse=True):
        # A short name, such as "pi", must not spoil other words that hold its letters.
        text = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", "…", text)
    return text
