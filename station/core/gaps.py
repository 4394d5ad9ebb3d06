"""Gaps: how long the power was off, learned from the time service, from a person who sets the time, or from a word.

A Pi without a battery clock usually learns the time after the station has started. Until then a power cut is of
unknown length and every clock stands on its safe side; here it is put right, and an alarm that only the doubt had
raised falls silent again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import UTC, datetime

from station.core import events as ev
from station.core.clocks import AlarmState, Clock
from station.core.cues import Cue
from station.core.drive import rate_of
from station.core.messages import TellGap, TellTime
from station.core.spans import about
from station.core.standing import Cast, Standing
from station.core.time_events import GapKnown, TimeHeard, TimeTold
from station.core.timing import MOST_S, left_s, runs
from station.core.turn import Turn
from station.core.walls import RANK, HowKnown, Outage, offset_of, reckoned, sure_s, wall_of
from station.errors import Refused
from station.texts import N_, t

EARLIEST = datetime(2025, 1, 1, tzinfo=UTC)
LATEST = datetime(2100, 1, 1, tzinfo=UTC)
SLACK_S = 120.0
"""So far a hand may set the time before the last evidence: two clocks never agree."""
SAME_S = 0.5


def settle(turn: Turn) -> None:
    """Note that the time was heard, and let every power cut count whose length is now known, or known better."""
    _hear(turn)
    for cut in turn.standing.outages:
        found = reckoned(turn.standing.walls, cut)
        if found is not None and _is_news(cut, *found) and _matters(turn, cut):
            _learn(turn, GapKnown(cut.back.boot_id, *found))


def _hear(turn: Turn) -> None:
    """Once in a boot, and only if the wall had been unknown or set by hand at first."""
    wall, now = wall_of(turn.standing.walls, turn.now.boot_id), turn.now
    if wall is None or not now.trusted or now.by_hand:
        return
    if wall.offset_s is None:
        turn.record(TimeHeard(offset_of(now)))
    elif wall.by_hand:
        turn.record(TimeHeard(offset_of(now), offset_of(now) - wall.offset_s))


def _is_news(cut: Outage, off_s: float, how: HowKnown) -> bool:
    if cut.how is None or cut.off_s is None:
        return True
    moved = abs(off_s - cut.off_s) > SAME_S
    return RANK[how] > RANK[cut.how] or (how is cut.how is HowKnown.SET and moved)


def _matters(turn: Turn, cut: Outage) -> bool:
    """Whether a clock holds this cut, or may yet: a first contact may be noticed after the cut."""
    boot_id = cut.back.boot_id
    if any(gap.boot_id == boot_id for _, clock in _running(turn.standing) for gap in clock.gaps):
        return True
    cast = turn.standing.bench
    return boot_id == turn.now.boot_id and cast is not None and cast.contact is None and cast.since.boot_id != boot_id


_NOT_DUE_FOR = N_("Cast {number}: the power was off for {off}. Not due yet: {kind}, {left} to go.")
_NOT_DUE = N_("Cast {number}: the power was off for {off}. Not due yet: {kind}.")


def _learn(turn: Turn, known: GapKnown) -> None:
    turn.record(known)
    if known.off_s is None:
        return
    for cast, clock in tuple(_running(turn.standing)):
        left = left_s(clock, turn.now, rate_of(turn.standing, cast))
        if clock.state is AlarmState.SOUNDING and left > 0:
            turn.record(ev.AlarmWithdrawn(cast.number, clock.kind, left if math.isfinite(left) else clock.length_s))
            words = _NOT_DUE_FOR if math.isfinite(left) else _NOT_DUE
            off, kind = about(known.off_s), t(clock.kind.value)
            turn.say(Cue.RESUMED, t(words, number=cast.number, off=off, kind=kind, left=about(left)))


def _running(standing: Standing) -> Iterator[tuple[Cast, Clock]]:
    return ((cast, clock) for cast in standing.casts for clock in cast.clocks if runs(clock))


def unknown(standing: Standing) -> tuple[Outage, ...]:
    """The power cuts whose length no wall tells, inside a clock that still has something to say; oldest first."""
    held = {
        gap.boot_id
        for _, clock in _running(standing)
        for gap in clock.gaps
        if clock.state is not AlarmState.ACKNOWLEDGED
    }
    walls = (None, HowKnown.NOBODY, HowKnown.TOLD)
    return tuple(cut for cut in standing.outages if cut.back.boot_id in held and cut.how in walls)


def holders(standing: Standing, cut: Outage) -> tuple[Cast, ...]:
    """The casts whose clocks hold this power cut."""
    return tuple(
        cast
        for cast in standing.casts
        if any(runs(clock) and gap.boot_id == cut.back.boot_id for clock in cast.clocks for gap in clock.gaps)
    )


def tell_gap(turn: Turn, told: TellGap) -> None:
    """A person says how long the power was off, or that nobody knows. Raises Refused."""
    cut = turn.standing.outage(told.boot_id)
    if cut is None or not holders(turn.standing, cut):
        raise Refused(t("No clock waits for the length of that power cut any more."), t("Reload the page."))
    if cut.how in (HowKnown.SET, HowKnown.HEARD) and cut.off_s is not None:
        raise Refused(
            t("The station knows by now that it was off for {off_s}.", off_s=about(cut.off_s)),
            t("Nothing needs telling."),
        )
    if told.off_s is None:
        if cut.how is HowKnown.TOLD and cut.off_s is not None:
            raise Refused(
                t("That the station was off for {off_s} has been told already.", off_s=about(cut.off_s)),
                t("Tell a better time instead."),
            )
        _learn(turn, GapKnown(told.boot_id, None, HowKnown.NOBODY, told.by))
        return
    if not math.isfinite(told.off_s) or told.off_s < 0:
        raise Refused(t("The station cannot have been off for less than no time."), t('Tell a time such as "40 min".'))
    if told.off_s > MOST_S:
        raise Refused(
            t(
                "Off for {off_s} is longer than the {most_s} days that any clock here runs.",
                off_s=about(told.off_s),
                most_s=f"{MOST_S / 86400:.0f}",
            ),
            t('Tell a time such as "40 min".'),
        )
    _learn(turn, GapKnown(told.boot_id, told.off_s, HowKnown.TOLD, told.by))


def tell_time(turn: Turn, told: TellTime) -> None:
    """A person tells the time of day, which then counts for this boot. Raises Refused."""
    now = turn.now
    if now.trusted and not now.by_hand:
        raise Refused(t("The station knows the time by itself."), t("Nothing needs setting."))
    if not EARLIEST <= told.wall < LATEST:
        raise Refused(
            t("{wall} is not the day today.", wall=f"{told.wall:%Y-%m-%d}"), t("Look at the date of your phone.")
        )
    early = _at_the_earliest(turn)
    if early is not None:
        after_s = (told.wall - early).total_seconds()
        if after_s < -SLACK_S:
            raise Refused(
                t(
                    "{wall} UTC cannot be now: the station has run until {early} UTC.",
                    wall=f"{told.wall:%Y-%m-%d %H:%M}",
                    early=f"{early:%Y-%m-%d %H:%M}",
                ),
                t("Look at the date and the time zone of your phone."),
            )
        if after_s > MOST_S:
            raise Refused(
                t(
                    "{wall} is more than {most_s} days after the station last ran.",
                    wall=f"{told.wall:%Y-%m-%d}",
                    most_s=f"{MOST_S / 86400:.0f}",
                ),
                t("Look at the date of your phone."),
            )
    offset_s = told.wall.timestamp() - now.boot_s
    turn.record(TimeTold(offset_s, told.by))
    turn.keep_time(offset_s)


def _at_the_earliest(turn: Turn) -> datetime | None:
    """What time it is at least: the last evidence before this boot, and the time that has passed in it."""
    cut = turn.standing.outage(turn.now.boot_id)
    seen = None if cut is None else sure_s(turn.standing.walls, cut.last_seen)
    if cut is None or seen is None:
        return None
    return datetime.fromtimestamp(seen[0] + turn.now.boot_s - cut.back.boot_s, UTC)


def keep_told(turn: Turn) -> None:
    """After a start in the same boot, the time that somebody told in it counts on."""
    wall = wall_of(turn.standing.walls, turn.now.boot_id)
    if wall is not None and wall.by_hand and wall.offset_s is not None:
        turn.keep_time(wall.offset_s)
