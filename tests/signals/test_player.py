"""Player: the score on a real thread. Order and meaning only; times are the score's tests."""

from __future__ import annotations

import itertools
import threading

import pytest
from gpiozero.pins.mock import MockFactory

from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES, ticks
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


def test_ticks_sound_at_their_pitch_and_the_stop_at_none_of_theirs() -> None:
    sounder = RecordingSounder()
    with Player(sounder, MockFactory.ticks) as player:
        player.pace(ticks(1.0), 880.0)
        assert sounder.wait_until(lambda states: states.count(True) >= 2)
        player.pace((), 880.0)
        player.cue(CUES[Cue.STOP])
        assert sounder.wait_until(lambda _: sounder.pitches[-1] is None)
    assert set(sounder.pitches[:-1]) == {880.0}


def test_closing_in_the_middle_of_a_pulse_leaves_it_silent() -> None:
    sounder = RecordingSounder()
    with Player(sounder, MockFactory.ticks) as player:
        player.cue(CUES[Cue.LOST])
        assert sounder.wait_until(lambda states: states == [True])
    assert sounder.states[-1] is False


def test_nobody_waits_for_a_sounder_that_hangs() -> None:
    class Hanging(RecordingSounder):
        def on(self, tick_hz: float | None = None) -> None:
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


@pytest.mark.parametrize("which", list(Cue))
def test_on_a_machine_that_always_wakes_too_late_no_pulse_of_a_cue_is_left_out_or_runs_into_the_next(
    which: Cue,
) -> None:
    sounder = RecordingSounder()
    late = itertools.count(0, 3)
    with Player(sounder, lambda: float(next(late))) as player:
        player.cue(CUES[which])
        assert sounder.wait_until(lambda states: states == [True, False] * len(CUES[which]))


def test_on_a_machine_that_always_wakes_too_late_an_alarm_is_whole_rounds() -> None:
    sounder = RecordingSounder()
    late = itertools.count(0, 7)
    strong = ALARMS[Urgency.STRONG]
    with Player(sounder, lambda: float(next(late))) as player:
        player.hold(strong)
        assert sounder.wait_until(lambda states: states.count(True) >= 2 * len(strong))
        player.hold(ALARMS[Urgency.CALM])
        assert sounder.wait_until(lambda states: not states[-1])
    assert sounder.states[: 4 * len(strong) - 1] == ([True, False] * 2 * len(strong))[:-1]
