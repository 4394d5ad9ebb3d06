"""Whatever wall clock, process and power do: every alarm rings in time, and no clock errs to the wrong side."""

from __future__ import annotations

import random
from collections.abc import Callable

import hypothesis.strategies as st
import pytest
from hypothesis import settings
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from station.core.clocks import ClockKind
from tests.faults.clock_world import StationRule, StationWorld, WallRule, World

DAY = 86400.0
BACK, AHEAD = -30 * DAY, 3650 * DAY
CASES = 10_000
BENCHES = ("mixing", "curing")


def something(world: World, dice: random.Random) -> None:
    """One thing that happens to a station in its life."""
    cut = (dice.choice((5, 90, 300, 900, 9000)) * dice.random(), dice.random() < 0.4, dice.choice((0, 0, 3600)))
    happenings: list[Callable[[], None]] = [
        lambda: world.advance(dice.choice((0.3, 30, 300, 7200)) * dice.random()),
        lambda: world.advance(dice.choice((30, 600, 7200)) * dice.random()),
        lambda: world.step_wall(dice.choice((BACK, -3600, -1.5, 1.5, 3600, 21 * DAY, AHEAD))),
        world.restart,
        lambda: world.power_cut(*cut),
        world.hear,
    ]
    if isinstance(world, StationWorld):
        happenings += [
            world.tell_time,
            lambda: world.tell_gap(dice.random() < 0.8),
            lambda: world.acknowledge(dice.choice(list(ClockKind))),
        ]
    dice.choice(happenings)()


def lived(world: World, dice: random.Random) -> World:
    """A station's life: some things that happen, then long enough for everything to fall due."""
    world.trusted = dice.random() < 0.5
    for _ in range(dice.randint(2, 10)):
        something(world, dice)
    if dice.random() < 0.8:
        world.hear()
    world.advance(2 * DAY)
    return world


def one_case(seed: int) -> StationWorld:
    which = BENCHES[seed % 2]
    world = StationWorld(StationRule(which), which)
    lived(world, random.Random(seed))
    return world


def test_of_ten_thousand_lives_no_alarm_is_missed_and_none_of_a_minimum_is_early() -> None:
    missed = {}
    for seed in range(CASES):
        world = one_case(seed)
        unheard = [kind for kind in world.due_s if not world.rule.rung(kind)]
        if world.late or world.early or unheard:
            missed[seed] = (world.late, world.early, unheard)
    assert missed == {}


@pytest.mark.parametrize("which", BENCHES)
def test_the_same_judge_finds_what_a_calendar_misses(which: str) -> None:
    late = early = 0
    for seed in range(1000):
        world = lived(World(WallRule(which), which), random.Random(seed))
        late += bool(world.late)
        early += bool(world.early)
    assert late >= 5
    assert early >= 100


class AnyTime(RuleBasedStateMachine):
    """The same with a journal that is really folded again at every start, and with lives that Hypothesis thinks of."""

    @initialize(which=st.sampled_from(BENCHES))
    def begin(self, which: str) -> None:
        self.world = StationWorld(StationRule(which, journal=True), which)

    @rule(seconds=st.floats(0.01, 20_000))
    def time_passes(self, seconds: float) -> None:
        self.world.advance(seconds)

    @rule(seconds=st.floats(BACK, AHEAD))
    def the_wall_jumps(self, seconds: float) -> None:
        self.world.step_wall(seconds)

    @rule()
    def the_process_is_killed(self) -> None:
        self.world.restart()

    @rule(off_s=st.floats(0, 200_000), heard=st.booleans(), lost_s=st.floats(0, 7200))
    def the_power_goes(self, off_s: float, heard: bool, lost_s: float) -> None:
        self.world.power_cut(off_s, heard, lost_s)

    @rule()
    def a_time_service_is_heard(self) -> None:
        self.world.hear()

    @rule()
    def somebody_sets_the_time(self) -> None:
        self.world.tell_time()

    @rule(know=st.booleans())
    def somebody_answers(self, know: bool) -> None:
        self.world.tell_gap(know)

    @rule(kind=st.sampled_from(ClockKind))
    def somebody_hears_an_alarm(self, kind: ClockKind) -> None:
        self.world.acknowledge(kind)

    @invariant()
    def nothing_is_late_or_early(self) -> None:
        if hasattr(self, "world"):
            assert self.world.late == []
            assert self.world.early == []


AnyTime.TestCase.settings = settings(max_examples=150, stateful_step_count=30, deadline=None)
TestAnyTime = AnyTime.TestCase
