"""Player: the score on a real thread. Order and meaning only; times are the score's tests."""

from __future__ import annotations

import threading

from gpiozero.pins.mock import MockFactory

from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES
from station.signals.player import Player
from tests.signals.listening import DEADLINE_S, RecordingSounder

QUICK_ALARM = ((0.01, 0.01), (0.01, 0.01), (0.01, 0.05))


def test_a_cue_is_so_many_pulses_and_ends_silent() -> None:
    sounder = RecordingSounder()
    with Player(sounder, MockFactory.ticks) as player:
        player.cue(CUES[Cue.ACCEPTED])
        assert sounder.wait_until(lambda states: states == [True, False] * 2)
    assert sounder.states == [*[True, False] * 2, False]


def test_an_alarm_goes_on_until_it_is_acknowledged() -> None:
    sounder = RecordingSounder()
    with Player(sounder, MockFactory.ticks) as player:
        player.hold(QUICK_ALARM)
        assert sounder.wait_until(lambda states: states.count(True) >= 4 * len(QUICK_ALARM))
        player.hold(ALARMS[Urgency.CALM])
        assert sounder.wait_until(lambda states: not states[-1])
        sounded = sounder.states.count(True)
        player.cue(CUES[Cue.ACKNOWLEDGED])
        assert sounder.wait_until(lambda states: states.count(True) >= sounded + len(CUES[Cue.ACKNOWLEDGED]))


def test_closing_in_the_middle_of_a_pulse_leaves_it_silent() -> None:
    sounder = RecordingSounder()
    with Player(sounder, MockFactory.ticks) as player:
        player.cue(CUES[Cue.LOST])
        assert sounder.wait_until(lambda states: states == [True])
    assert sounder.states[-1] is False


def test_nobody_waits_for_a_sounder_that_hangs() -> None:
    class Hanging(RecordingSounder):
        def on(self) -> None:
            entered.set()
            assert released.wait(DEADLINE_S)

    entered, released = threading.Event(), threading.Event()
    with Player(Hanging(), MockFactory.ticks) as player:
        player.cue(CUES[Cue.STOP])
        assert entered.wait(DEADLINE_S)
        player.cue(CUES[Cue.ACCEPTED])
        player.hold(ALARMS[Urgency.FIRST])
        player.hold(ALARMS[Urgency.CALM])
        # Only now: had one of the calls waited for the sounder, this line would not have been reached.
        released.set()
