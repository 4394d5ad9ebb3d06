"""At rest just below an end of its window a weighing waits for the next single drop; elsewhere it is judged at once."""

from station.core import events as ev
from station.core.mass import ZERO, Mass
from station.core.rest import DROPS_S, LONGEST_S
from tests.play import GRIP, SILICONE, Play

HASTY_S = 1.5
"""Enough for a verdict where no drop is awaited: 0.8 s at rest and two readings."""


def poured(to: str, settle_s: float) -> Play:
    """The first pour of A ends at so much from `low`, `target` or `high` of its window, and stands for a while."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    end, _, more = to.partition(" ")
    play.pour(getattr(play.step, end) + Mass.grams(more or "0"), g_per_s=20, settle_s=settle_s)
    return play


def accepted(play: Play) -> bool:
    return bool(play.events(ev.Accepted))


def asked_for_more(play: Play) -> bool:
    return any("A little more" in say.words for say in play.cues)


def test_in_the_middle_of_its_window_it_is_accepted_at_once():
    assert accepted(poured("target", HASTY_S))


def test_just_above_the_lower_end_no_drop_can_harm():
    assert accepted(poured("low 0.1", HASTY_S))


def test_just_below_the_upper_end_it_is_accepted_once_no_drop_has_come():
    play = poured("high -0.1", HASTY_S)
    assert not accepted(play)
    play.stand(DROPS_S)
    assert accepted(play)


def test_a_drop_that_decides_is_seen_before_the_verdict():
    play = poured("high -0.1", HASTY_S)
    play.load = play.load + Mass.grams("0.2")
    play.stand(5)
    (overshot,) = [event for event in play.events(ev.Recomputed) if event.over > ZERO]
    (taken,) = play.events(ev.Accepted)
    assert overshot.net == taken.net
    assert play.events(ev.Reopened) == []


def test_just_below_the_lower_end_nobody_is_asked_for_more_while_a_drop_may_come():
    late, soon = poured("low -0.1", 4), poured("low -0.1", HASTY_S)
    assert asked_for_more(late)
    assert not asked_for_more(soon)
    soon.load = soon.load + Mass.grams("0.1")
    soon.stand(3)
    assert accepted(soon)
    assert not asked_for_more(soon)


def test_a_scale_that_flickers_is_not_waited_for_without_end():
    play = poured("high -0.1", 0.0)
    load, waited = play.load, 0.0
    while not accepted(play) and waited < 12:
        play.load = load
        play.stand(1.2)
        play.load = load - Mass.grams("0.2")
        play.stand(0.2)
        waited += 1.4
    assert LONGEST_S <= waited <= LONGEST_S + 3
