"""Stand-ins for clock, signals and record that live in memory. For tests and trials; the service never uses them."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

from station.core.cues import Cue, Urgency
from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.fold import replayed
from station.core.moment import Moment
from station.core.standing import Standing
from station.core.walls import wall_at
from station.errors import LedgerFault

BOOT_TAKES_S = 20.0


class ScriptedClock:
    """A `ports.TimeSource` that moves only when told. Starts in "boot-1" with a trusted wall clock."""

    def __init__(self, wall: datetime = datetime(2026, 3, 2, 9, 0, tzinfo=UTC), boot_s: float = 100.0) -> None:
        self._lock = threading.Lock()
        self._true = wall
        self._wall_off = timedelta(0)
        self._boot_s = boot_s
        self._boot = 1
        self._trusted = True
        self._told_s: float | None = None

    def now(self) -> Moment:
        """The instant to which the script has come."""
        with self._lock:
            if self._told_s is not None and not self._trusted:
                return Moment(self._boot_s, f"boot-{self._boot}", wall_at(self._told_s, self._boot_s), True, True)
            return Moment(self._boot_s, f"boot-{self._boot}", self._true + self._wall_off, self._trusted)

    def advance(self, seconds: float) -> Moment:
        """Time passes. Returns the new instant."""
        with self._lock:
            self._true += timedelta(seconds=seconds)
            self._boot_s += seconds
        return self.now()

    def step_wall(self, seconds: float) -> Moment:
        """The wall clock jumps; no time passes."""
        with self._lock:
            self._wall_off += timedelta(seconds=seconds)
        return self.now()

    def reboot(self, off_seconds: float, trusted: bool = True) -> Moment:
        """Power goes and comes back `off_seconds` later; the station is asked again 20 s into the new boot.

        Not trusted: the wall goes on from where it was at the cut, as on a board without a battery clock.
        """
        with self._lock:
            self._true += timedelta(seconds=off_seconds + BOOT_TAKES_S)
            self._wall_off = timedelta(0) if trusted else self._wall_off - timedelta(seconds=off_seconds)
            self._boot_s = BOOT_TAKES_S
            self._boot += 1
            self._trusted = trusted
            self._told_s = None
        return self.now()

    def told(self, offset_s: float) -> None:
        """A person tells the time: it counts until a time server is heard, or the power goes."""
        with self._lock:
            self._told_s = offset_s

    def trust(self, trusted: bool = True) -> Moment:
        """A time server is heard: the wall is right and trusted. False: the wall stays as it is, unproved."""
        with self._lock:
            self._trusted = trusted
            if trusted:
                self._wall_off = timedelta(0)
        return self.now()


class RecordingSignals:
    """A `ports.Signals` that remembers: `cues` and `said` in order; `holds`, `paces`, `lamp_states` as they change."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self.cues: list[Cue] = []
        self.said: list[str] = []
        self.holds: list[Urgency] = [Urgency.CALM]
        self.paces: list[float | None] = [None]
        self.lamp_states: list[tuple[bool, bool, bool]] = [(False, False, False)]

    def cue(self, cue: Cue, words: str) -> None:
        """Remember a cue and its words."""
        with self._changed:
            self.cues.append(cue)
            self.said.append(words)
            self._changed.notify_all()

    def hold(self, urgency: Urgency) -> None:
        """Remember a change of the held alarm."""
        with self._changed:
            if urgency is not self.holds[-1]:
                self.holds.append(urgency)
                self._changed.notify_all()

    def pace(self, pace: float | None) -> None:
        """Remember a change of the pace."""
        with self._changed:
            if pace != self.paces[-1]:
                self.paces.append(pace)
                self._changed.notify_all()

    def lamps(self, ready: bool, busy: bool, attention: bool) -> None:
        """Remember a change of the lamps."""
        with self._changed:
            if (ready, busy, attention) != self.lamp_states[-1]:
                self.lamp_states.append((ready, busy, attention))
                self._changed.notify_all()

    @property
    def urgency(self) -> Urgency:
        """The alarm held now."""
        with self._changed:
            return self.holds[-1]

    def wait_until(self, true: Callable[[RecordingSignals], bool], deadline_s: float = 10.0) -> bool:
        """Wait until `true(self)`; False when it has not come true by the deadline."""
        with self._changed:
            return self._changed.wait_for(lambda: true(self), deadline_s)


class MemoryLedger:
    """A `ports.Ledger` in memory. While `failing` is a sentence, every write raises LedgerFault with it."""

    def __init__(self, entries: Sequence[Entry] = ()) -> None:
        self.written: list[Entry] = list(entries)
        self.traces: list[KeepTrace] = []
        self.beats: list[Moment] = []
        self.shortcuts: list[Standing] = []
        self.failing = ""
        self._last_seen = self.written[-1].at if self.written else None

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> None:
        """Keep all of them, or none."""
        self._check()
        self.written.extend(entries)
        self.traces.extend(traces)
        if entries:
            self._last_seen = entries[-1].at

    def heartbeat(self, at: Moment) -> None:
        """Keep the evidence."""
        self._check()
        self.beats.append(at)
        self._last_seen = at

    def last_seen(self) -> Moment | None:
        """The moment of the latest write or heartbeat."""
        return self._last_seen

    def standing(self, told: Callable[[int], object] = lambda _: None) -> Standing:
        """What the entries fold to."""
        told(len(self.written))
        return replayed(self.written)

    def keep_standing(self, standing: Standing) -> None:
        """Remember the shortcut."""
        self._check()
        self.shortcuts.append(standing)

    def _check(self) -> None:
        if self.failing:
            raise LedgerFault(self.failing)
