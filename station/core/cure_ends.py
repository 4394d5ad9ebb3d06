"""Cure ends: when each cast that cures may be taken out and is fully cured, for a calendar. By wall time, or not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.drive import counts_words, rate_of
from station.core.moment import Moment
from station.core.standing import Cast, Standing
from station.core.timing import due_wall, left_s
from station.texts import t

ENDS = (ClockKind.DEMOLD, ClockKind.FULL_CURE)


@dataclass(frozen=True, slots=True)
class CureEnd:
    """The end of one clock of one cast. `origin` is what makes it this one and no other, for ever.

    `due` (UTC) is None while the cure stands still; `over`: it has come, and moves no more. `words` say what it hangs
    on.
    """

    origin: str
    number: int
    kind: ClockKind
    mold: str
    material: str
    due: datetime | None
    over: bool
    words: str


def cure_ends(standing: Standing, now: Moment) -> tuple[CureEnd, ...]:
    """Every end to come, or come and not done with, of casts away from the bench. Needs a trusted wall."""
    return tuple(
        _end(standing, cast, clock, now)
        for cast in standing.casts
        if cast.poured is not None and cast.ending is None and not cast.at_bench
        for kind in ENDS
        if (clock := cast.clock(kind)) is not None and clock.state is not AlarmState.STOPPED
    )


def _end(standing: Standing, cast: Cast, clock: Clock, now: Moment) -> CureEnd:
    rate = rate_of(standing, cast)
    words = t("Material: {material}.", material=cast.plan.material.title)
    if left_s(clock, now, rate) > 0:
        words += t(" A forecast: it may move with the temperature at the bench.")
        words += counts_words(cast.plan.material, standing.temperature_c)
    if clock.unknown_gap:
        words += t(" The station was off for an unknown time, which counts as nothing: it may be ready sooner.")
    began = cast.begun
    return CureEnd(
        origin=f"{began.boot_id} {began.boot_s:.6f} {cast.number} {clock.kind.name}",
        number=cast.number,
        kind=clock.kind,
        mold=cast.plan.mold.title,
        material=cast.plan.material.title,
        due=due_wall(clock, now, rate),
        over=left_s(clock, now, rate) <= 0,
        words=words,
    )
