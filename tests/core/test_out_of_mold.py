"""A part comes out of its mold by a long press at a free bench: no page is needed for it."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue
from station.errors import Refused
from tests.play import GRIP, SILICONE, Play, replay_equals_live

DEMOLD_S = 14400


def long_press(play: Play) -> None:
    play.press(msg.Press.LONG)


def demolded(play: Play) -> list[tuple[int, str]]:
    return [(event.number, event.by) for event in play.events(ev.Demolded)]


@pytest.fixture
def cured():
    """Two casts, one after the other; the demold alarm of both sounds."""
    play = Play()
    play.silicone_in_the_mold()
    play.wait(600, tick_s=60)
    play.silicone_in_the_mold()
    play.wait(DEMOLD_S + 60, tick_s=60)
    return play


def test_a_part_that_is_called_out_and_answered_is_out_by_a_long_press(cured):
    cured.press()
    long_press(cured)
    assert demolded(cured) == [(1, "pedal")]
    assert cured.cues[-1].cue is Cue.DEMOLDED
    assert "Cast 1" in cured.cues[-1].words
    cured.press()
    long_press(cured)
    assert demolded(cured) == [(1, "pedal"), (2, "pedal")]
    assert replay_equals_live(cured)


def test_a_long_press_never_silences_an_alarm_that_nobody_has_answered(cured):
    with pytest.raises(Refused, match="none that may come out"):
        long_press(cured)
    assert demolded(cured) == []
    assert [cast.clock(ClockKind.DEMOLD).state for cast in cured.standing.casts] == [AlarmState.SOUNDING] * 2


def test_the_part_whose_alarm_was_answered_first_is_the_one_that_is_out(cured):
    cured.send(msg.Acknowledge(2, ClockKind.DEMOLD, "test"))
    cured.pass_s(5)
    cured.send(msg.Acknowledge(1, ClockKind.DEMOLD, "test"))
    long_press(cured)
    assert demolded(cured) == [(2, "pedal")]


def test_a_part_that_still_cures_stays_in_its_mold():
    play = Play()
    play.silicone_in_the_mold()
    with pytest.raises(Refused, match="none that may come out"):
        long_press(play)
    assert demolded(play) == []


def test_an_answer_of_before_a_power_cut_comes_first(cured):
    cured.press()
    cured.restart(off_s=30, new_boot="boot-2")
    cured.press()
    long_press(cured)
    assert demolded(cured) == [(1, "pedal")]


def test_with_a_cast_at_the_bench_a_long_press_pauses_it_as_ever(cured):
    cured.press()
    cured.press()
    cured.begin(SILICONE, "220", GRIP)
    long_press(cured)
    assert cured.cast.paused
    assert demolded(cured) == []
