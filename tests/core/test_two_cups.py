"""A foam cast in two cups, combined on the scale."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue
from station.core.mass import ZERO, Mass
from station.core.plan import Way
from station.core.steps import Combine, Cure, Mix, PlaceCup, PreMix, ReadyCheck, Weigh, WeighEmptied
from tests.play import FOAM, Play, replay_equals_live


def weighed(play: Play) -> None:
    """Both cups filled, pigment stirred in, ready check confirmed; cup B stands on the scale."""
    plan = play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target)
    play.pour(play.step.target, g_per_s=0.5)
    play.wait(21)
    play.press()
    play.press()
    play.stand(2)


def test_the_way_is_chosen_from_the_pot_life_and_the_reason_has_the_numbers():
    play = Play()
    plan = play.begin(FOAM, "160")
    assert plan.way is Way.TWO_CUPS
    for number in ("40 s", "15 s", "12 s", "67 s", "50 s"):
        assert number in plan.way_reason


def test_the_poured_out_cup_carries_the_cling_allowance():
    play = Play()
    plan = play.begin(FOAM, "160")
    a = plan.shares[0]
    assert a.ingredient == "A"
    # 160 g of mix with 3 % of B as pigment: components 160 / (1 + 0.03 * 60/160).
    assert (a.planned - a.stays).g == pytest.approx(160 / 1.01125 * 0.625, abs=0.001)
    assert a.stays.mg / a.planned.mg == pytest.approx(0.01, abs=1e-5)


def test_a_foam_cast_from_cups_to_cure_learns_what_clings():
    play = Play()
    weighed(play)
    assert isinstance(play.step, Combine)
    play.pour(play.step.target, g_per_s=30)
    assert isinstance(play.step, Mix)
    assert play.events(ev.Combined)[0].within
    play.wait(16)
    play.press()
    play.lift()
    play.press()
    play.press()
    assert isinstance(play.step, WeighEmptied)
    play.stand(1.5)
    play.put("14.3")
    assert play.step == WeighEmptied("B", mix=True)
    play.press()
    assert isinstance(play.step, Cure)
    held = play.events(ev.Accepted)[0].net
    assert play.standing.cling_percents("foam", "A") == (pytest.approx(2000 / held.mg * 100),)
    assert play.begin(FOAM, "160").shares[0].stays.mg / 1000 == pytest.approx(2.0, abs=0.03)
    assert replay_equals_live(play)


def test_pigment_is_weighed_into_b_and_stirred_before_anything_meets():
    play = Play()
    plan = play.begin(FOAM, "160")
    kinds = [type(step) for step in plan.steps]
    assert kinds.index(PreMix) < kinds.index(ReadyCheck) < kinds.index(Combine)
    pigment = next(s for s in plan.steps if isinstance(s, Weigh) and s.ingredient == "pigment")
    assert pigment.cup == "B"
    assert pigment.target.mg == pytest.approx(play.cast.plan.shares[1].planned.mg * 0.03, abs=1)


def test_the_pot_life_starts_when_a_first_lands_in_b():
    play = Play()
    weighed(play)
    before = play.now
    play.pour("10", g_per_s=20, settle_s=0.3)
    play.pour("10", g_per_s=20, settle_s=0.3)
    contact = play.events(ev.FirstContact)[0]
    assert before.boot_s - 0.3 <= contact.at.boot_s <= before.boot_s + 0.1
    assert play.cast.clock(ClockKind.POUR_BY).length_s == 38


def test_combining_away_from_the_scale_starts_the_clock_at_the_lift():
    play = Play()
    weighed(play)
    at = play.now
    play.lift()
    contact = play.events(ev.FirstContact)[0]
    assert at.boot_s <= contact.at.boot_s <= at.boot_s + 0.2
    play.press()
    combined = play.events(ev.Combined)[0]
    assert combined.gained is None
    assert not combined.within
    assert isinstance(play.step, Mix)


def test_a_short_transfer_goes_on_by_press_and_the_record_says_so():
    play = Play()
    weighed(play)
    target = play.step.target
    play.pour(target - Mass.grams("6"), g_per_s=30)
    assert isinstance(play.step, Combine)
    play.press()
    combined = play.events(ev.Combined)[0]
    assert not combined.within
    assert abs(combined.gained - (target - Mass.grams("6"))) <= Mass.grams("0.1")


def test_too_much_b_tops_up_cup_a_which_is_recognised_by_its_weight():
    play = Play()
    plan = play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    cup_a = play.lift()
    play.put("13.1")
    play.pour(play.step.target + Mass.grams("6"))
    play.stand(3)
    assert isinstance(play.step, PlaceCup)
    assert play.step.again
    assert play.step.cup == "A"
    cup_b = play.lift()
    play.put(cup_a)
    assert isinstance(play.step, Weigh)
    assert play.step.already > ZERO
    play.pour(play.step.target, g_per_s=2)
    assert isinstance(play.step, PlaceCup)
    assert play.step.cup == "B"
    play.lift()
    play.put(cup_b)
    assert isinstance(play.step, Weigh)
    assert play.step.ingredient == "pigment"
    assert replay_equals_live(play)


def test_pot_life_alarm_sounds_even_while_combining_is_not_finished():
    play = Play()
    weighed(play)
    play.pour("10", g_per_s=20)
    play.pour("10", g_per_s=20)
    play.wait(60)
    assert play.cast.clock(ClockKind.POUR_BY).state is AlarmState.SOUNDING
    assert play.cast.clock(ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    assert Cue.CONTACT.name in play.said()


@pytest.mark.parametrize("stirred", [False, True])
def test_a_poured_into_b_before_any_press_starts_the_clock(stirred):
    play = Play()
    plan = play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target)
    play.pour(play.step.target, g_per_s=0.5)
    play.stand(21)
    if stirred:
        play.press()
    assert isinstance(play.step, ReadyCheck if stirred else PreMix)
    before = play.now
    play.pour("97.7", g_per_s=30)
    contact = play.events(ev.FirstContact)[0]
    assert before.boot_s - 0.3 <= contact.at.boot_s <= before.boot_s + 0.1
    assert isinstance(play.step, Mix)
    assert play.events(ev.Combined)[0].within
    assert replay_equals_live(play)


def test_a_pour_away_from_the_scale_that_is_owned_up_to_counts_from_when_nobody_looked():
    play = Play()
    weighed(play)
    since = play.cast.since
    play.send(msg.ScaleLost("The cable is out."))
    play.pass_s(8)
    play.load = play.load + play.step.target
    play.send(msg.ScaleFound("again"))
    play.stand(3)
    assert "heavier" in play.bench.pan.complaint
    play.press()
    assert play.events(ev.FirstContact)[0].at == since
    combined = play.events(ev.Combined)[0]
    assert combined.within
    assert isinstance(play.step, Mix)
