"""Single drops look like rest: what comes late is weighed again, whatever step has come meanwhile."""

from dataclasses import replace

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.cues import Cue
from station.core.late_drips import falls_s
from station.core.mass import ZERO, Mass
from station.core.material import ScaleCard
from station.core.planning import planned
from station.core.steps import Combine, Mix, PreMix, Weigh
from tests.play import FOAM, GRIP, PLACE, SILICONE, Play, replay_equals_live

FINE = ScaleCard(Mass.grams("0.01"), Mass.grams(3000), lag_s=0.3)


def at_mixing(grams: str = "220") -> Play:
    play = Play()
    play.begin(SILICONE, grams, GRIP)
    play.put("24.3")
    play.pour(play.step.target)
    play.press()
    play.pour(play.step.target, g_per_s=3)
    assert isinstance(play.step, Mix)
    return play


def drip(play: Play, grams: str, after_s: float = 0.0) -> None:
    play.stand(after_s)
    play.load = play.load + Mass.grams(grams)
    play.stand(2)


def at_transferred() -> Play:
    """Two cups of foam, one poured into the other, at rest."""
    play = Play()
    play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(play.step.target)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target)
    play.pour(play.step.target, g_per_s=0.5)
    play.stand(21)
    play.press()
    play.press()
    assert isinstance(play.step, Combine)
    play.pour(play.step.target, g_per_s=30, settle_s=1.5)
    assert isinstance(play.step, Mix)
    return play


def test_drops_after_the_last_weighing_open_it_again_and_are_counted():
    play = at_mixing()
    taken = play.cast.accepted[-1]
    drip(play, "0.2")
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["B"]
    again = play.cast.accepted[-1]
    assert again.net == taken.net + Mass.grams("0.2")
    assert isinstance(play.step, Mix)
    assert sum(clock.kind is ClockKind.MIX for clock in play.cast.clocks) == 1
    assert replay_equals_live(play)


def test_an_overshoot_by_late_drops_is_told():
    play = at_mixing()
    drip(play, "0.5")
    play.stand(3)
    assert play.events(ev.Recomputed) or play.events(ev.BatchLost)
    assert Cue.OVER.name in play.said()


@pytest.mark.parametrize(("grams", "after_s"), [("0.1", 0.0), ("3.0", 0.0), ("0.2", 10.0)])
def test_less_than_the_limit_a_stick_and_what_comes_later_open_nothing(grams, after_s):
    play = at_mixing()
    drip(play, grams, after_s)
    assert play.events(ev.Reopened) == []
    assert isinstance(play.step, Mix)


def test_a_cup_that_was_lifted_for_stirring_is_not_weighed_again():
    play = at_mixing()
    load = play.lift()
    play.put(load + Mass.grams("0.3"))
    assert play.events(ev.Reopened) == []


@pytest.mark.parametrize("grams", ["0.05", "0.12"])
def test_a_single_drop_into_a_small_dose_opens_it_on_a_fine_scale(grams):
    play = Play()
    play.begin(SILICONE, "55", GRIP)
    cast = play.cast
    standing = replace(play.standing, casts=(replace(cast, plan=replace(cast.plan, scale=FINE)),))
    play.bench = replace(play.bench, standing=standing)
    play.put("24.3")
    play.pour(play.step.target)
    play.press()
    assert isinstance(play.step, Weigh)
    assert (play.step.high - play.step.low).mg == pytest.approx(200, abs=10)
    play.pour(Mass.grams("4.9"), g_per_s=3)
    assert isinstance(play.step, Mix)
    # Play shows tenths; this scale shows what lies on it.
    for _ in range(30):
        play.pass_s(0.1)
        play.send(msg.Reading(play.load + Mass.grams(grams), msg.Stability.STABLE))
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["B"]
    assert play.cast.accepted[-1].net == Mass.grams("4.9") + Mass.grams(grams)


def shaken(play: Play, grams: list[str], each_s: float = 0.2) -> None:
    """The load goes through these masses above what lies there, and ends where it was."""
    was = play.load
    for more in grams:
        play.load = was + Mass.grams(more)
        play.stand(each_s)
    play.load = was


STIRRED = ["4", "-2", "5", "-1", "6", "-2", "3", "-1", "5"]


@pytest.mark.parametrize("more", ["0.2", "0.3"])
def test_a_stick_that_rests_between_stirs_is_no_drop(more):
    """What lies there then is the hand: it has gone up and down since the accept."""
    play = at_mixing()
    shaken(play, STIRRED)
    drip(play, more, after_s=0.5)
    play.stand(4)
    assert play.events(ev.Reopened) == []
    assert isinstance(play.step, Mix)


def test_a_stick_in_a_cup_that_was_poured_together_adds_no_drops():
    play = at_transferred()
    shaken(play, STIRRED)
    drip(play, "0.7", after_s=0.5)
    assert len(play.events(ev.Combined)) == 1


def test_a_drop_after_a_struck_table_is_weighed_again():
    play = at_mixing()
    shaken(play, ["3", "-2", "1"])
    drip(play, "0.2", after_s=1.5)
    play.stand(2)
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["B"]


def test_a_load_that_only_grows_never_falls_however_it_flickers():
    grows = [(0.1 * n, 100 * (n // 7) - 100 * (n % 2)) for n in range(60)]
    assert falls_s(grows, 200) == ()
    up_and_down = [(float(n), 1000 * (n % 2)) for n in range(7)]
    assert falls_s(up_and_down, 200) == (2.0, 4.0, 6.0)


def test_drops_after_a_transfer_are_put_down_beside_it():
    play = at_transferred()
    first = play.events(ev.Combined)[0]
    drip(play, "0.7")
    both = play.events(ev.Combined)
    assert [combined.gained for combined in both[1:]] == [Mass.grams("0.7")]
    assert both[1].step == first.step
    assert isinstance(play.step, Mix)
    assert replay_equals_live(play)
    play.stand(3)
    assert len(play.events(ev.Combined)) == 2, "told once"


def test_drops_of_an_additive_open_it_again_before_the_stirring():
    play = Play()
    play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(play.step.target)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target)
    play.pour(play.step.target, g_per_s=0.5, settle_s=1.2)
    assert isinstance(play.step, PreMix)
    drip(play, "0.2")
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["pigment"]


def at_pigment(settle_s: float = 1.2) -> Play:
    """Two cups of foam: A and B are weighed, pigment comes next into the cup of B."""
    play = Play()
    play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(play.step.target)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target, settle_s=settle_s)
    assert isinstance(play.step, Weigh)
    assert play.step.ingredient == "pigment"
    return play


def test_drops_before_the_next_pour_are_counted_to_the_last_ingredient_and_the_next_follows():
    play = at_pigment()
    taken, target = play.cast.accepted[-1], play.step.target
    drip(play, "0.4")
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["B"]
    again = play.cast.accepted[-1]
    assert (again.ingredient, again.net) == ("B", taken.net + Mass.grams("0.4"))
    assert play.step.ingredient == "pigment"
    assert play.step.target.g == pytest.approx(0.03 * again.net.g, abs=0.001)
    assert play.step.target > target
    play.stand(6)
    play.pour(play.step.target, g_per_s=0.5)
    assert play.cast.accepted[-1].ingredient == "pigment"
    assert replay_equals_live(play)


def test_so_many_drops_that_it_is_too_much_are_told_before_the_next_is_poured():
    play = at_pigment()
    for _ in range(4):
        drip(play, "0.4")
    play.stand(3)
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["B"] * 4
    assert any(event.ingredient == "B" and event.over > ZERO for event in play.events(ev.Recomputed))
    assert replay_equals_live(play)


@pytest.mark.parametrize(("grams", "after_s"), [("0.1", 0.0), ("0.6", 0.0), ("0.4", 5.5)])
def test_less_more_or_later_is_the_next_ingredient(grams, after_s):
    play = at_pigment()
    drip(play, grams, after_s)
    assert play.events(ev.Reopened) == []
    assert play.step.ingredient == "pigment"


def test_a_pour_that_begins_at_once_and_flows_on_is_the_next_ingredient():
    play = at_pigment()
    play.pour(play.step.target, g_per_s=0.3)
    assert play.events(ev.Reopened) == []
    assert play.cast.accepted[-1].ingredient == "pigment"


def test_a_drop_before_the_reactive_component_starts_no_clock():
    play = Play()
    place = replace(PLACE, ready_check=False)
    play.send(msg.BeginCast(planned(SILICONE, GRIP, Mass.grams(220), place=place, standing=play.standing), "test"))
    play.put("24.3")
    play.pour(play.step.target, settle_s=1.2)
    assert isinstance(play.step, Weigh)
    assert play.step.reactive
    drip(play, "1.2")
    assert [reopened.ingredient for reopened in play.events(ev.Reopened)] == ["A"]
    assert play.cast.contact is None
