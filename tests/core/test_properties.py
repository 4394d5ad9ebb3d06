"""Whatever comes in, in whatever order: what the weighing machine never does."""

from contextlib import suppress
from dataclasses import replace

import hypothesis.strategies as st
from hypothesis import settings
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from station.casting.chemistry import Chemistry
from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.mass import ZERO, Mass
from station.core.pan import STALE_S
from station.core.steps import Combine, Mix, Pour, Weigh
from station.errors import Refused
from tests.play import FOAM, RUBBER, SILICONE, Play, replay_equals_live

DRIVEN = replace(
    SILICONE, chemistry=Chemistry.ADDITION_SILICONE, times=replace(SILICONE.times, coldest_c=15.0, warmest_c=35.0)
)
"""A silicone that temperature drives, within limits."""
TENTHS = st.integers(1, 3000).map(lambda n: Mass(n * 100))


class AnyBench(RuleBasedStateMachine):
    """Hands, pedal, cable, power and time in any order; the person may do anything, sensible or not."""

    @initialize(material=st.sampled_from([SILICONE, DRIVEN, FOAM, RUBBER]), flag=st.sampled_from([True, None]))
    def begin(self, material, flag):
        self.play = Play(stable_flag=flag)
        self.material = material
        self.checked = 0
        self.play.begin(material, "160")

    # --- a person who mostly does what is asked
    @rule(grams=st.integers(120, 400))
    def put_a_cup(self, grams):
        self.play.put(Mass(grams * 100))

    @rule()
    def lift_and_put_back(self):
        was = self.play.lift()
        self.play.put(was)

    @rule(mass=TENTHS, speed=st.floats(1, 60))
    def pour_anything(self, mass, speed):
        self.play.pour(mass, g_per_s=speed, settle_s=1.5)

    @precondition(lambda self: self.pours())
    @rule(off=st.floats(-0.05, 0.08), speed=st.floats(2, 40))
    def pour_what_is_asked(self, off, speed):
        step = self.play.standing.bench.step
        cup = self.play.standing.bench.cup(step.cup)
        net = self.play.load - cup.level if self.play.bench.pan.proven else ZERO
        wanted = step.target.times(1 + off) - net
        if wanted > ZERO:
            self.play.pour(wanted, g_per_s=speed)
        self.play.stand(3)

    def pours(self):
        cast = self.play.standing.bench
        return cast is not None and isinstance(cast.step, Weigh | Combine)

    @rule()
    def press(self):
        self.attempt(msg.Pressed(msg.Press.SHORT, "pedal"))

    @rule()
    def long_press(self):
        self.attempt(msg.Pressed(msg.Press.LONG, "pedal"))

    @rule(seconds=st.floats(0.2, 90))
    def wait(self, seconds):
        self.play.wait(seconds)

    @rule(seconds=st.floats(0.1, 4))
    def stand(self, seconds):
        self.play.stand(seconds)

    # --- what may fail
    @rule(seconds=st.floats(0.2, 20), jump=TENTHS)
    def cable(self, seconds, jump):
        self.play.send(msg.ScaleLost("pulled"))
        self.play.wait(seconds)
        self.play.load = self.play.load + jump
        self.play.send(msg.ScaleFound("back"))

    @rule(trouble=st.sampled_from(msg.Trouble))
    def trouble(self, trouble):
        self.play.send(msg.NoLoad(trouble))

    @rule(celsius=st.none() | st.floats(-5, 45))
    def temperature(self, celsius):
        self.play.send(msg.Temperature(celsius))

    @rule(gross=TENTHS, empty=TENTHS)
    def count_a_container(self, gross, empty):
        self.attempt(msg.CountLot("W-17", gross, empty, "page"))

    @rule(off=st.floats(0, 4000), how=st.sampled_from(["kill", "power", "power, clock lost"]))
    def restart(self, off, how):
        new_boot = "" if how == "kill" else f"boot-{len(self.play.entries)}-{self.play.boot_s}"
        self.play.restart(off, new_boot, trusted=how != "power, clock lost")

    @precondition(lambda self: self.play.standing.bench is None)
    @rule()
    def next_cast(self):
        self.play.begin(self.material, "160")

    def attempt(self, message):
        before = self.play.bench
        with suppress(Refused):
            self.play.send(message)
            return
        assert self.play.bench is before, "a refusal changes nothing"

    # --- what never happens
    @invariant()
    def what_is_accepted_lies_in_its_window_and_was_really_there(self):
        for entry in self.new_entries():
            match entry.event:
                case ev.Accepted(net=net, low=low, high=high, gross=gross):
                    assert low <= net <= high
                    pan = self.play.bench.pan
                    assert pan.at is None or entry.at.boot_id != pan.at.boot_id or gross.mg % 100 == 0
                case ev.Combined(gained=gained, within=within) if within:
                    assert gained is not None

    def new_entries(self):
        entries = self.play.entries[self.checked :]
        self.checked = len(self.play.entries)
        return entries

    @invariant()
    def no_clock_is_unarmed_after_first_contact(self):
        for cast in self.play.standing.casts:
            if cast.contact is None:
                continue
            for kind in (ClockKind.POT_LIFE, ClockKind.POUR_BY, ClockKind.DEMOLD):
                clock = cast.clock(kind)
                assert clock is not None
                if cast.poured is None and kind is ClockKind.POT_LIFE:
                    assert clock.state is not AlarmState.STOPPED
                if cast.poured is not None and kind is ClockKind.DEMOLD and not cast.demolded:
                    assert clock.state is not AlarmState.STOPPED
            assert cast.number in {entry.event.number for entry in self.play.entries if has_contact(entry)}

    @invariant()
    def whoever_mixes_has_had_first_contact(self):
        for cast in self.play.standing.casts:
            if isinstance(cast.step, Mix | Pour):
                assert cast.contact is not None

    @invariant()
    def replay_equals_live(self):
        assert replay_equals_live(self.play)

    @invariant()
    def a_cup_holds_what_was_accepted_into_it(self):
        for cast in self.play.standing.casts:
            for cup in cast.cups:
                taken = sum((a.net for a in cast.accepted if a.cup == cup.name), start=ZERO)
                assert cup.held == taken


def has_contact(entry):
    return isinstance(entry.event, ev.FirstContact)


AnyBench.TestCase.settings = settings(max_examples=60, stateful_step_count=30, deadline=None)
test_any_bench = AnyBench.TestCase


def guarded_frames():
    """Every captured mass rests on readings that are fresh and at rest: watch each single frame."""
    play = Play()
    play.begin(SILICONE, "220")
    return play


def test_no_frame_captures_while_the_load_moves_or_the_reading_is_old():
    play = guarded_frames()
    play.put("24.3")
    accepted_at = []
    target = Mass.grams("200")
    base = play.load
    for tenth in range(0, 2100):
        before = len(play.cast.accepted)
        play.load = base + Mass(min(tenth * 100, target.mg))
        play.frame(moving=tenth * 100 <= target.mg)
        if len(play.cast.accepted) > before:
            accepted_at.append(tenth)
            break
    assert accepted_at
    assert accepted_at[0] * 100 >= target.mg + 700, "only after the load has stood still for the whole window"
    old = replace(play.bench.pan, at=replace(play.now, boot_s=play.now.boot_s - STALE_S - 0.1))
    from station.core.pan import is_live

    assert not is_live(old, play.now)
