"""What is worth a message: alarms that sound, each with a key of its own for as long as it is the same one."""

from __future__ import annotations

from dataclasses import replace

from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.matters import OCCASIONS, Occasion, alarm_matters
from station.core.standing import Cast, Standing
from station.core.timing import new_clock
from station.testing import ScriptedClock
from tests.phone.shown import PAD, SmallShelf

NOW = ScriptedClock().now()


def cast(number: int, *clocks: Clock) -> Cast:
    plan = SmallShelf().plan("foam", PAD.key, "", {}, "test").plan
    return Cast(number, plan, NOW, plan.steps, len(plan.steps) - 1, NOW, clocks=clocks)


def clock(kind: ClockKind, state: AlarmState, raised_s: float = 5.0) -> Clock:
    return replace(new_clock(kind, 60.0, NOW), state=state, raised=replace(NOW, boot_s=raised_s))


def test_only_what_sounds_is_worth_a_message_and_the_most_urgent_comes_first() -> None:
    standing = Standing(
        casts=(
            cast(11, clock(ClockKind.DEMOLD, AlarmState.SOUNDING), clock(ClockKind.FULL_CURE, AlarmState.WAITING)),
            cast(12, clock(ClockKind.POT_LIFE, AlarmState.SOUNDING), clock(ClockKind.MIX, AlarmState.SOUNDING)),
            cast(13, clock(ClockKind.DEMOLD, AlarmState.ACKNOWLEDGED)),
        )
    )
    first, second = alarm_matters(standing)
    assert (first.occasion, second.occasion) == (Occasion.POT_LIFE, Occasion.DEMOLD)
    assert second.words == "Cast 11, kayak seat pad: ready to demold."
    assert first.key.startswith("cast 12 pot life boot-1 ")


def test_an_alarm_that_is_raised_again_is_another_matter() -> None:
    def key(raised_s: float) -> str:
        sounding = clock(ClockKind.DEMOLD, AlarmState.SOUNDING, raised_s)
        return alarm_matters(Standing(casts=(cast(11, sounding),)))[0].key

    assert key(5.0) == key(5.0)
    assert key(5.0) != key(6.0)


def test_every_alarm_has_its_occasion() -> None:
    assert {kind for kind in ClockKind if kind not in OCCASIONS} == {ClockKind.MIX}
