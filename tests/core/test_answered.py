"""An alarm is answered once: who comes second is told by whom."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.errors import Refused
from tests.play import Play


def cured() -> Play:
    """One cast whose demold alarm sounds."""
    play = Play()
    play.silicone_in_the_mold()
    play.wait(14_460, tick_s=60)
    assert play.events(ev.AlarmRaised)
    return play


@pytest.mark.parametrize("first", ["pedal", "page (blue phone)"])
def test_who_answers_second_is_told_by_whom_and_nothing_is_written_twice(first):
    play = cured()
    play.send(msg.Acknowledge(1, ClockKind.DEMOLD, first))
    before = len(play.entries)
    with pytest.raises(Refused) as refusal:
        play.send(msg.Acknowledge(1, ClockKind.DEMOLD, "page (red phone)"))
    assert refusal.value.sentence() == f"The demold alarm of cast 1 was already acknowledged by {first}."
    assert len(play.entries) == before
    assert [event.by for event in play.events(ev.AlarmAcknowledged)] == [first]


def test_a_clock_that_has_not_run_out_has_no_alarm_to_answer():
    with pytest.raises(Refused, match="No full cure alarm of cast 1 sounds"):
        cured().send(msg.Acknowledge(1, ClockKind.FULL_CURE, "page"))
