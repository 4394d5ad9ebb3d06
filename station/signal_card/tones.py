"""Which tones there are and what each says, from the table that the buzzer plays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from station.core.clocks import ALARMING, ClockKind
from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES, DOOR, Pattern
from station.texts import N_, t, tn

LONG_FROM_S = 0.3
"""A pulse from here on is heard as a long one; `signals.patterns` keeps all of them far from it."""


@dataclass(frozen=True, slots=True)
class Tone:
    """A pattern and everything that it may mean; several meanings ask for the same."""

    pattern: Pattern
    meanings: tuple[str, ...]


def cue_tones(cues: Mapping[Cue, Pattern] = CUES) -> Sequence[Tone]:
    """Each different cue once, the shorter and simpler first, so that one that was just heard is found quickly."""
    alike: dict[Pattern, list[str]] = {}
    for cue in Cue:
        alike.setdefault(cues[cue], []).append(t(cue.value))
    door = t("every device was locked out, and a new code is given")
    return [
        *(
            Tone(pattern, tuple(meanings))
            for pattern, meanings in sorted(alike.items(), key=lambda one: _order(one[0]))
        ),
        Tone(DOOR, (door,)),
    ]


def alarm_tones(alarms: Mapping[Urgency, Pattern] = ALARMS) -> Sequence[Tone]:
    """Each round that an alarm repeats until it is answered."""
    clocks = ", ".join(t(kind.value) for kind in ClockKind if kind in ALARMING)
    return [
        Tone(pattern, (t(_ALARM[urgency], clocks=clocks),)) for urgency, pattern in alarms.items() if len(pattern) > 0
    ]


_ALARM = {
    Urgency.FIRST: N_("An alarm in its first minute ({clocks}). A short press answers it."),
    Urgency.STRONG: N_("The same after a minute, or when nobody knows how long the power was off."),
}


def rhythm(pattern: Pattern) -> str:
    """The pattern in words, such as "2 short, 1 long"."""
    runs = [(is_long, len(list(of))) for is_long, of in groupby(on >= LONG_FROM_S for on, _ in pattern)]
    return ", ".join(
        tn("{n} long", "{n} long", n) if is_long else tn("{n} short", "{n} short", n) for is_long, n in runs
    )


def _order(pattern: Pattern) -> tuple[int, tuple[bool, ...]]:
    return len(pattern), tuple(on >= LONG_FROM_S for on, _ in pattern)
