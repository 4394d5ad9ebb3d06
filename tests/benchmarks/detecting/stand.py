"""A bench in the step that is asked for, and what it does with a scale's lines, by `bench.step` as in the service."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

from station.core import messages as msg
from station.core.bench import Bench, step
from station.core.effects import Record
from station.core.events import Entry
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.moment import Moment
from station.core.steps import Weigh
from tests.benchmarks.detecting.filters import Line
from tests.play import DAY, GRIP, SILICONE, Play

CUP_G = 24.3
A_G = 200.0


def on_card(bench: Bench, card: ScaleCard) -> Bench:
    """The bench with another scale in its plan, and nothing remembered of the pan."""
    cast = bench.standing.casts[-1]
    cast = replace(cast, plan=replace(cast.plan, scale=card))
    standing = replace(bench.standing, casts=(*bench.standing.casts[:-1], cast))
    return replace(bench, standing=standing)


def with_window(bench: Bench, target: Mass, low: Mass, high: Mass) -> Bench:
    """The bench with another target in its present weighing."""
    cast = bench.standing.casts[-1]
    now = cast.step
    assert isinstance(now, Weigh)
    steps = list(cast.steps)
    steps[cast.position] = replace(now, target=target, low=low, high=high)
    standing = replace(bench.standing, casts=(*bench.standing.casts[:-1], replace(cast, steps=tuple(steps))))
    return replace(bench, standing=standing)


def awaiting_cup(card: ScaleCard) -> Play:
    """A cast just begun: its cup is awaited."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.bench = on_card(play.bench, card)
    return play


def weighing_first(card: ScaleCard) -> Play:
    """The cup is tared; A is to be poured."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put(f"{CUP_G}")
    play.bench = on_card(play.bench, card)
    return play


def weighing_reactive(card: ScaleCard) -> Play:
    """A is in the cup and the check confirmed: the next gram is first contact."""
    play = weighing_first(card)
    play.pour(f"{A_G}")
    play.press()
    return play


def heard(play: Play, lines: Iterable[Line]) -> tuple[Bench, list[Entry], Moment]:
    """The bench after all lines, what it wrote down, and when the first line's second 0 was. `play` stays as it is."""
    bench, began, entries = play.bench, play.now, []
    for line in lines:
        now = replace(began, boot_s=began.boot_s + line.at_s, wall=DAY + timedelta(seconds=line.at_s))
        stability = msg.Stability.STABLE if line.stable else msg.Stability.MOVING
        bench, effects = step(bench, msg.Reading(Mass.nearest(line.grams), stability), now)
        entries += [Entry(e.event, now) for e in effects if isinstance(e, Record)]
    return bench, entries, began
