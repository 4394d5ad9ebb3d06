"""Matters: what somebody away from the bench may want to be told, and which of it is true now."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.alarms import alarm_words, sounding
from station.core.clocks import Clock, ClockKind
from station.core.standing import Cast, Standing
from station.texts import N_


class Occasion(Enum):
    """On what occasion a message is sent. The value tells it in words."""

    POT_LIFE = N_("A pot life ends")
    DEMOLD = N_("A cast is ready to demold")
    FULL_CURE = N_("A cast is fully cured")
    SCALE = N_("The scale is lost for ten minutes while a cast is in hand")
    RECORD = N_("The record is damaged or is not written")
    JUDGING = N_("A part waits for its verdict, or for a hardness reading at full cure")
    BACKUP = N_("No backup was made for a week")


USUAL = frozenset({Occasion.DEMOLD, Occasion.SCALE, Occasion.RECORD, Occasion.BACKUP})
"""The occasions that count as long as nobody has chosen."""

OCCASIONS = {
    ClockKind.POT_LIFE: Occasion.POT_LIFE,
    ClockKind.POUR_BY: Occasion.POT_LIFE,
    ClockKind.DEMOLD: Occasion.DEMOLD,
    ClockKind.FULL_CURE: Occasion.FULL_CURE,
}


@dataclass(frozen=True, slots=True)
class Matter:
    """One thing worth a message. `key` is the same for as long as it is the same matter, also after a restart.

    `live`: it is true at this moment; a fault that comes and goes stays one matter meanwhile. Without `words` it is
    only remembered, not told.
    """

    key: str
    occasion: Occasion
    words: str
    live: bool = True


def alarm_matters(standing: Standing) -> tuple[Matter, ...]:
    """Every alarm that nobody has acknowledged, most urgent first."""
    return tuple(
        Matter(_key(cast, clock), OCCASIONS[clock.kind], alarm_words(cast, clock))
        for cast, clock in sounding(standing)
        if clock.kind in OCCASIONS
    )


def _key(cast: Cast, clock: Clock) -> str:
    """Cast, clock and occurrence: an alarm that was withdrawn and is raised again is another matter."""
    raised = clock.raised
    when = "?" if raised is None else f"{raised.boot_id} {raised.boot_s:.3f}"
    return f"cast {cast.number} {clock.kind.value} {when}"
