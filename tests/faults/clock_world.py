"""A world in which time itself goes wrong: wall steps, restarts and power cuts, with the truth beside it.

The truth is plain arithmetic of its own; the rule that is judged sees only what a station on a board sees: boot-time
seconds, a wall that may be wrong, whether a time service was heard, and its last sign of life.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from typing import Protocol

from station.core import messages as msg
from station.core.alarms import next_due_s
from station.core.bench import Bench, step
from station.core.clocks import ALARMING, MAXIMA, AlarmState, Clock, ClockKind
from station.core.drive import rate_of
from station.core.effects import KeepTime, Record
from station.core.events import Entry
from station.core.fold import replayed
from station.core.moment import Moment
from station.core.timing import age_s
from station.core.walls import wall_at
from station.errors import Refused
from tests.core.test_time import curing, mixing
from tests.play import BOOT

BEAT_S = 60.0
LATE_S = 1.0
EPSILON_S = 0.01


class Rule(Protocol):
    """What decides when an alarm rings."""

    def wake(self, now: Moment) -> None:
        """Look at the time."""

    def restart(self, last_seen: Moment, now: Moment) -> None:
        """Come back, in the same boot or in another."""

    def due_in_s(self, now: Moment) -> float | None:
        """When to look next."""

    def rung(self, kind: ClockKind) -> bool:
        """Whether its alarm sounds or has been heard."""

    told_s: float | None
    last_entry: Moment


@dataclass(frozen=True)
class Beginning:
    """A bench at which clocks run, as its journal tells it."""

    entries: tuple[Entry, ...]
    standing_bench: Bench
    boot_s: float


@cache
def beginning(which: str) -> Beginning:
    """A silicone that is being mixed, or one that cures; all its clocks run."""
    play = mixing() if which == "mixing" else curing()
    return Beginning(tuple(play.entries), Bench(play.standing), play.boot_s)


class StationRule:
    """The station's own: the pure bench, as the loop drives it."""

    def __init__(self, which: str, *, journal: bool = False) -> None:
        begun = beginning(which)
        self.bench = begun.standing_bench
        self.entries = list(begun.entries) if journal else None
        self.last_entry = begun.entries[-1].at
        self.told_s: float | None = None

    def send(self, message: msg.Message, now: Moment) -> None:
        self.bench, effects = step(self.bench, message, now)
        for effect in effects:
            if isinstance(effect, KeepTime):
                self.told_s = effect.offset_s
            if isinstance(effect, Record):
                self.last_entry = now
                if self.entries is not None:
                    self.entries.append(Entry(effect.event, now))

    def wake(self, now: Moment) -> None:
        self.send(msg.Tick(), now)

    def restart(self, last_seen: Moment, now: Moment) -> None:
        self.told_s = None
        standing = self.bench.standing if self.entries is None else replayed(self.entries)
        assert standing == self.bench.standing
        self.bench = Bench(standing)
        self.send(msg.Started(last_seen, "test"), now)

    def due_in_s(self, now: Moment) -> float | None:
        return next_due_s(self.bench.standing, now)

    def clock(self, kind: ClockKind) -> Clock:
        clock = self.bench.standing.casts[0].clock(kind)
        assert clock is not None
        return clock

    def rung(self, kind: ClockKind) -> bool:
        clock = self.clock(kind)
        return clock.state is AlarmState.SOUNDING or clock.acknowledged is not None

    def age_s(self, kind: ClockKind, now: Moment) -> float:
        standing = self.bench.standing
        return age_s(self.clock(kind), now, rate_of(standing, standing.casts[0]))


class WallRule:
    """The control: rings when the wall says that it is due, as a calendar does."""

    def __init__(self, which: str) -> None:
        cast = beginning(which).standing_bench.standing.casts[0]
        clocks = [clock for clock in cast.clocks if clock.kind in ALARMING and clock.state is AlarmState.WAITING]
        self.due = {clock.kind: clock.started.wall + timedelta(seconds=clock.length_s) for clock in clocks}
        self.rang: set[ClockKind] = set()
        self.told_s: float | None = None
        self.last_entry = cast.since

    def wake(self, now: Moment) -> None:
        self.rang |= {kind for kind, due in self.due.items() if now.wall >= due}

    def restart(self, last_seen: Moment, now: Moment) -> None:
        self.wake(now)

    def due_in_s(self, now: Moment) -> float | None:
        waiting = [(due - now.wall).total_seconds() for kind, due in self.due.items() if kind not in self.rang]
        return min(waiting, default=None)

    def rung(self, kind: ClockKind) -> bool:
        return kind in self.rang


class World:
    """The truth, and the board that knows only a part of it. `late` and `early` gather what a rule did wrong."""

    def __init__(self, rule: Rule, which: str) -> None:
        begun = beginning(which)
        cast = begun.standing_bench.standing.casts[0]
        self.rule = rule
        self.now_s = begun.boot_s
        self.boot_began_s, self.boot_id = 0.0, BOOT
        self.wall_off_s, self.trusted = 0.0, True
        self.beat_s = begun.boot_s
        self.back_s = begun.boot_s
        clocks = [clock for clock in cast.clocks if clock.kind in ALARMING and clock.state is AlarmState.WAITING]
        self.due_s = {clock.kind: clock.started.boot_s + clock.length_s for clock in clocks}
        self.off_s: dict[str, float] = {}
        self.late: list[tuple[ClockKind, float]] = []
        self.early: list[tuple[ClockKind, float]] = []
        # The bench began with this wall; the truth goes on from it.
        self._epoch = cast.begun.wall - timedelta(seconds=cast.begun.boot_s)

    # --- what the board shows
    def true_wall(self, at_s: float) -> datetime:
        return self._epoch + timedelta(seconds=at_s)

    def moment(self, at_s: float | None = None) -> Moment:
        at = self.now_s if at_s is None else at_s
        boot_s = at - self.boot_began_s
        if self.rule.told_s is not None and not self.trusted:
            return Moment(boot_s, self.boot_id, wall_at(self.rule.told_s, boot_s), True, True)
        return Moment(boot_s, self.boot_id, self.true_wall(at) + timedelta(seconds=self.wall_off_s), self.trusted)

    def _look(self) -> None:
        self.rule.wake(self.moment())
        self._judge()

    # --- what happens
    def advance(self, seconds: float) -> None:
        """Time passes; the rule looks whenever it had wanted to."""
        until = self.now_s + seconds
        while True:
            due = self.rule.due_in_s(self.moment())
            left = until - self.now_s
            if due is None or due >= left:
                break
            self.now_s += max(due, 0.001)
            self._look()
        self.now_s = max(self.now_s, until)
        self._look()
        self.beat_s += BEAT_S * ((self.now_s - self.beat_s) // BEAT_S)

    def step_wall(self, seconds: float) -> None:
        """The wall jumps. While a time service is heard it puts the wall right again a minute later."""
        self.wall_off_s += seconds
        self._look()
        if self.trusted:
            self.advance(BEAT_S / 2)
            self.wall_off_s -= seconds
            self.advance(BEAT_S + 1)

    def hear(self) -> None:
        """A time service is heard."""
        self.wall_off_s, self.trusted = 0.0, True
        self._look()

    def restart(self) -> None:
        """kill -9, and back after some seconds in the same boot."""
        self.now_s += 3.0
        self.back_s = self.now_s
        self.rule.restart(self.last_seen(), self.moment())
        self.advance(0.25)

    def power_cut(self, off_s: float, heard: bool, wall_lost_s: float = 0.0) -> None:
        """Off for `off_s`. Not `heard`: the wall goes on from where it was saved, perhaps long before the cut."""
        seen, shown = self.last_seen(), self.moment().wall
        seen_s = self.boot_began_s + seen.boot_s
        self.now_s += off_s
        self.boot_began_s = self.now_s
        self.now_s += 20.0
        self.boot_id = f"boot-{self.boot_began_s:.3f}"
        self.trusted = heard
        saved_s = (shown - self.true_wall(self.boot_began_s)).total_seconds() - wall_lost_s
        self.wall_off_s = 0.0 if heard else saved_s
        self.rule.told_s = None
        self.back_s = self.beat_s = self.now_s
        self.off_s[self.boot_id] = self.now_s - seen_s
        self.rule.restart(seen, self.moment())
        self.advance(0.25)

    def last_seen(self) -> Moment:
        """The last sign of life: an entry, or the beat of each minute."""
        entry, beat = self.rule.last_entry, self.moment(self.beat_s)
        return entry if entry.boot_id == beat.boot_id and entry.boot_s >= beat.boot_s else beat

    # --- the judge
    def _judge(self) -> None:
        for kind, due in self.due_s.items():
            rung = self.rule.rung(kind)
            overdue = self.now_s - max(due, self.back_s)
            if overdue > LATE_S and not rung and not self._doubted(kind):
                self.late.append((kind, overdue))
            if kind not in MAXIMA and rung and self.now_s < due - EPSILON_S:
                self.early.append((kind, due - self.now_s))

    def _doubted(self, kind: ClockKind) -> bool:
        """Whether a rule owns up to not knowing how old this clock is."""
        return False


class StationWorld(World):
    """The world of the station's own rule, whose clocks can be looked into and who can be told something."""

    rule: StationRule

    def tell_time(self) -> None:
        """Somebody sets the time by hand, rightly; refused where the station knows it."""
        with suppress(Refused):
            self.rule.send(msg.TellTime(self.true_wall(self.now_s), "test"), self.moment())
        self.advance(0.25)

    def tell_gap(self, know: bool) -> None:
        """Somebody says how long the station was off before this boot, or that nobody knows."""
        with suppress(Refused):
            off_s = self.off_s.get(self.boot_id) if know else None
            self.rule.send(msg.TellGap(self.boot_id, off_s, "test"), self.moment())
        self._judge()

    def acknowledge(self, kind: ClockKind) -> None:
        """Somebody hears the alarm, if it sounds."""
        with suppress(Refused):
            self.rule.send(msg.Acknowledge(1, kind, "test"), self.moment())

    def _judge(self) -> None:
        super()._judge()
        now = self.moment()
        for kind in self.due_s:
            self._judge_age(kind, now)

    def _judge_age(self, kind: ClockKind, now: Moment) -> None:
        rule, clock = self.rule, self.rule.clock(kind)
        true_age = self.now_s - (self.due_s[kind] - clock.length_s)
        age = rule.age_s(kind, now)
        off = age - true_age
        if kind in MAXIMA:
            used_up = clock.unknown_gap and age >= clock.length_s
            assert used_up or off >= -EPSILON_S, f"{kind.value} counts {-off:.3f} s too little"
        else:
            assert off <= EPSILON_S, f"{kind.value} counts {off:.3f} s too much"
        if not clock.unknown_gap:
            assert abs(off) <= EPSILON_S, f"{kind.value} is {off:.3f} s off although every gap is known"

    def _doubted(self, kind: ClockKind) -> bool:
        """A cure with an unknown gap may come late: that is its safe side."""
        return kind not in MAXIMA and self.rule.clock(kind).unknown_gap
