"""Caster: a simulated person at the bench, who reads the page, hears the cues, pours and presses.

All of it is assumed, and only good enough to try the station with: coarse flow first, slower when told so,
a hand that closes a third of a second after "stop", a lip that drips on, a lapse now and then.
"""

from __future__ import annotations

import random
from collections.abc import Generator
from dataclasses import dataclass, field

from station.core.cues import Cue
from station.core.messages import Press
from station.core.snapshot import ColumnView, Snapshot, StepState, StepView
from station.core.steps import Close, Combine, Mix, PlaceCup, Pour, PreMix, ReadyCheck, Step, WeighEmptied

Hands = Generator[float, Snapshot, Snapshot]
"""Gives the load on the pan in grams, takes what the station shows a moment later."""

TARES_G = {"mixing cup": 24.3, "A": 12.4, "B": 13.1}
JAR_G = 16.8
SECONDS = {ReadyCheck: 3.0, Pour: 6.0, Close: 5.0}
"""What a step done by hand takes this person; others take two."""


@dataclass(frozen=True, slots=True)
class Habits:
    """How this person works: reaction to a cue in s, its spread, share of lapses, and what stays in cups."""

    reaction_s: float = 0.30
    spread_s: float = 0.07
    lapses: float = 0.06
    closing_s: float = 0.16
    cling_percent: float = 1.6
    left_in_cup: float = 0.015
    coarse_s: float = 8.0


@dataclass(slots=True)
class Caster:
    """One person. Step it with `send(snapshot)` on the generator from `hands()`, `frame_s` apart."""

    seed: int
    frame_s: float = 0.1
    habits: Habits = field(default_factory=Habits)
    presses: list[Press] = field(default_factory=list)
    _random: random.Random = field(init=False)
    _cups: dict[str, float] = field(default_factory=dict)
    _on_pan: str | None = None
    _stirring_g: float = 0.0
    _mixed: str | None = None

    def __post_init__(self) -> None:
        self._random = random.Random(f"caster {self.seed}")

    def hands(self, seen: Snapshot) -> Hands:
        """Work for ever: whatever the page asks for, in the order in which it asks."""
        number = None
        while True:
            bench = seen.bench
            if bench is None:
                self._on_pan = None
                seen = yield self._load()
                continue
            if bench.number != number:
                number, self._cups = bench.number, {}
            label = _now(seen)
            if bench.column is not None:
                seen = yield from self._pour(seen, bench.column, label)
            elif bench.press_means and not isinstance(_step(seen), WeighEmptied):
                seen = yield from self._by_hand(seen, label)
            else:
                seen = yield from self._put(seen, label)

    # --- cups
    def _load(self) -> float:
        """What presses on the pan now; stirring shakes it."""
        if self._on_pan is None:
            return 0.0
        shake = self._random.gauss(0, self._stirring_g) if self._stirring_g else 0.0
        return self._cups[self._on_pan] + shake

    def _put(self, seen: Snapshot, label: str) -> Hands:
        """Clear the pan, put the cup on that is asked for, and wait until the page goes on."""
        step = _step(seen)
        cup = step.cup if isinstance(step, PlaceCup | WeighEmptied) else label
        self._on_pan = None
        seen = yield from self._wait(seen, self._random.uniform(1.2, 2.0))
        self._cups.setdefault(cup, TARES_G.get(cup, JAR_G) + self._random.uniform(-0.4, 0.4))
        self._on_pan = cup
        waited = 0.0
        while _now(seen) == label and seen.bench is not None and waited < 15:
            seen = yield self._load()
            waited += self.frame_s
        return seen

    def _wait(self, seen: Snapshot, seconds: float) -> Hands:
        for _ in range(max(1, round(seconds / self.frame_s))):
            seen = yield self._load()
        return seen

    def _press(self, seen: Snapshot, label: str) -> Hands:
        self.presses.append(Press.SHORT)
        waited = 0.0
        while _now(seen) == label and seen.bench is not None and waited < 3:
            seen = yield self._load()
            waited += self.frame_s
        return seen

    # --- steps without a target
    def _by_hand(self, seen: Snapshot, label: str) -> Hands:
        step = _step(seen)
        if isinstance(step, PreMix):
            self._stirring_g = 0.4
            seen = yield from self._wait(seen, 21.0)
            self._stirring_g = 0.0
        elif isinstance(step, Mix):
            self._mixed, self._on_pan = self._on_pan, None
            while _now(seen) == label and not _heard(seen, Cue.MIX_ENOUGH) and not seen.alarms:
                seen = yield self._load()
            seen = yield from self._wait(seen, 1.0)
        else:
            seen = yield from self._wait(seen, SECONDS.get(type(step), 2.0))
            if isinstance(step, Pour) and self._mixed is not None:
                cup, inside = self._mixed, self._can_leave(self._mixed)
                self._cups[cup] -= inside * (1 - self.habits.left_in_cup)
        return (yield from self._press(seen, label))

    # --- pouring
    def _pour(self, seen: Snapshot, column: ColumnView, label: str) -> Hands:
        """Pour until the page goes on; a combining pour comes out of the other cup and ends when that is empty."""
        cup = column.cup
        if self._on_pan != cup:
            return (yield from self._put_back(seen, cup, label))
        seen = yield from self._wait(seen, self._random.uniform(0.8, 1.3))
        step = _step(seen)
        source = step.source if isinstance(step, Combine) else None
        stream = Stream(self, column.target.g, hurried=source is not None)
        heard = 0 if seen.last_cue is None else seen.last_cue.count
        quiet_s = 0.0
        while _now(seen) == label and seen.bench is not None:
            column_now = seen.bench.column
            if column_now is None or (column_now.net is None and quiet_s > 6):
                break
            if seen.last_cue is not None and seen.last_cue.count != heard:
                heard = seen.last_cue.count
                stream.hear(seen.last_cue.cue)
            grams = stream.flows(self.frame_s)
            if source is not None:
                grams = min(grams, self._can_leave(source))
                self._cups[source] -= grams
            self._cups[cup] += grams
            quiet_s = 0.0 if grams > 1e-4 else quiet_s + self.frame_s
            seen = yield self._load()
            if source is not None and quiet_s > 4.0:
                return (yield from self._press(seen, label))
            if quiet_s > 5.0:
                stream.dribble()
        return seen

    def _put_back(self, seen: Snapshot, cup: str, label: str) -> Hands:
        self._on_pan = None
        seen = yield from self._wait(seen, 1.0)
        self._on_pan = cup
        return (yield from self._wait(seen, 2.0)) if _now(seen) == label else seen

    def _can_leave(self, source: str) -> float:
        """What still runs out of a cup: all but the film that clings to it."""
        inside = self._cups[source] - TARES_G.get(source, JAR_G)
        return max(0.0, inside - self.habits.cling_percent)


class Stream:
    """The stream out of a jug: coarse, slow, stopped, dribbling; it answers a cue only after the reaction time."""

    def __init__(self, person: Caster, target_g: float, hurried: bool) -> None:
        self._habits, self._random = person.habits, person._random
        self._coarse = max(0.4, target_g / (3.0 if hurried else self._habits.coarse_s))
        self._slow = max(0.12, target_g / (12.0 if hurried else 55.0))
        self._drop = max(0.05, target_g / 160.0)
        self._wanted, self._flow = self._coarse, 0.0
        self._changes: list[tuple[float, float]] = []
        self._time = 0.0

    def hear(self, cue: Cue) -> None:
        """A cue reaches the ear; the hand follows later."""
        delay = max(0.15, self._random.gauss(self._habits.reaction_s, self._habits.spread_s))
        if self._random.random() < self._habits.lapses:
            delay += self._random.uniform(0.2, 0.6)
        stopped = self._wanted == 0 or any(wanted == 0 for _, wanted in self._changes)
        if cue is Cue.NEAR:
            self._changes.append((self._time + delay, self._drop if stopped else self._slow))
        elif cue in (Cue.STOP, Cue.OVER):
            self._changes.append((self._time + delay, 0.0))

    def dribble(self) -> None:
        """Nothing was said for long and nothing happens: a little more."""
        self._changes.append((self._time, self._drop))
        self._changes.append((self._time + 0.6, 0.0))

    def flows(self, seconds: float) -> float:
        """Grams that leave in the next `seconds`."""
        self._time += seconds
        for at, wanted in list(self._changes):
            if at <= self._time:
                self._wanted = wanted
                self._changes.remove((at, wanted))
        self._flow += (self._wanted - self._flow) * min(1.0, seconds / self._habits.closing_s)
        if self._flow < 0.01:
            return 0.0
        return max(0.0, self._flow * self._random.gauss(1.0, 0.1)) * seconds


def _field(seen: Snapshot) -> StepView | None:
    """The field of the strip that shows as now; None without a cast."""
    strip = () if seen.bench is None else seen.bench.strip
    return next((field for field in strip if field.state is StepState.NOW), None)


def _now(seen: Snapshot) -> str:
    """Its label, by which one step is told from the next; empty without a cast."""
    now = _field(seen)
    return "" if now is None else now.label


def _step(seen: Snapshot) -> Step | None:
    """The step itself: a person knows it in any language."""
    now = _field(seen)
    return None if now is None else now.step


def _heard(seen: Snapshot, cue: Cue) -> bool:
    return seen.last_cue is not None and seen.last_cue.cue is cue
