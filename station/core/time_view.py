"""What readers may see of time: whether the station knows the time of day, and what power cuts it asks about."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.clocks import MAXIMA
from station.core.gaps import holders, unknown
from station.core.moment import Moment
from station.core.spans import about
from station.core.standing import Cast, Standing
from station.core.walls import BootWall, Outage, wall_of
from station.texts import N_, t, tn

SHIFT_WORTH_S = 120.0
SHIFT_SHOWN_S = 12 * 3600.0


class TimeState(Enum):
    """Whether the station knows the time of day. The value is that in words."""

    UNKNOWN = N_("not known")
    SET = N_("set by hand")
    HEARD = N_("known")


@dataclass(frozen=True, slots=True)
class GapView:
    """A power cut of which no wall tells the length. `told_s`: what somebody has said; `open`: nobody has answered.

    `safe_side` says how the clocks count it meanwhile.
    """

    boot_id: str
    words: str
    safe_side: str
    told_s: float | None
    open: bool


@dataclass(frozen=True, slots=True)
class TimeView:
    """The station learned the time `since_s` seconds ago in this boot, None when it has not.

    `by` is who set it by hand. `shift_s` is by how much the time service then moved it, None when it did not.
    """

    state: TimeState
    since_s: float | None
    by: str
    shift_s: float | None
    gaps: tuple[GapView, ...]


def time_view(standing: Standing, now: Moment) -> TimeView:
    """Time as the station knows it at `now`."""
    wall = wall_of(standing.walls, now.boot_id)
    state = TimeState.UNKNOWN
    if now.trusted:
        state = TimeState.SET if now.by_hand else TimeState.HEARD
    since = None if wall is None or not now.trusted else now.boot_s - wall.since.boot_s
    gaps = tuple(_gap(standing, cut) for cut in unknown(standing))
    return TimeView(state, since, _setter(wall), None if wall is None else wall.shift_s, gaps)


def _setter(wall: BootWall | None) -> str:
    return wall.by if wall is not None and wall.by_hand else ""


def _gap(standing: Standing, cut: Outage) -> GapView:
    casts = holders(standing, cut)
    kinds = {
        clock.kind for cast in casts for clock in cast.clocks if any(_same(gap.boot_id, cut) for gap in clock.gaps)
    }
    side = []
    if kinds - MAXIMA:
        side.append(t("counts nothing for curing"))
    if kinds & MAXIMA:
        side.append(t("counts the pot life as used up"))
    words = t("The station was off for an unknown time while {casts}: how long?", casts=_meanwhile(casts))
    return GapView(cut.back.boot_id, words, t(" and ").join(side), cut.off_s, cut.how is None)


def _same(boot_id: str, cut: Outage) -> bool:
    return boot_id == cut.back.boot_id


def _meanwhile(casts: tuple[Cast, ...]) -> str:
    worked = [cast.number for cast in casts if cast.at_bench]
    cured = [cast.number for cast in casts if not cast.at_bench]
    said = []
    if worked:
        told = _named(worked)
        said.append(tn("{casts} stood at the bench", "{casts} stood at the bench", len(worked), casts=told))
    if cured:
        said.append(tn("{casts} cured", "{casts} cured", len(cured), casts=_named(cured)))
    return t(" and ").join(said)


def _named(numbers: list[int]) -> str:
    *first, last = map(str, numbers)
    return t("casts {first} and {last}", first=", ".join(first), last=last) if first else t("cast {last}", last=last)


_BEHIND = N_("The time set by hand was {shift} behind the time service's. Times of day are right now.")
_AHEAD = N_("The time set by hand was {shift} ahead of the time service's. Times of day are right now.")


def shift_words(view: TimeView) -> str:
    """By how much a hand was wrong, as long as that is news; empty otherwise."""
    if (
        view.shift_s is None
        or abs(view.shift_s) < SHIFT_WORTH_S
        or view.since_s is None
        or view.since_s > SHIFT_SHOWN_S
    ):
        return ""
    side = _BEHIND if view.shift_s > 0 else _AHEAD
    return t(side, shift=about(abs(view.shift_s)))
