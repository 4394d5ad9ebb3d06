"""Score: cues between the rounds of an alarm, in simulated time and so to the millisecond."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES, Pattern
from station.signals.score import AFTER_CUE_S, BREATH_S, Score
from tests.signals.listening import Sound, cue, heard, hold, lengths

FIRST, STRONG, CALM = ALARMS[Urgency.FIRST], ALARMS[Urgency.STRONG], ALARMS[Urgency.CALM]
PULSE_S = FIRST[0][0]


def on_times(pattern: Pattern) -> list[float]:
    return [on for on, _ in pattern]


def begins(sounds: list[Sound]) -> list[float]:
    """When each three pulses of an alarm began."""
    alarm = [sound for sound in sounds if abs(sound[1] - sound[0] - PULSE_S) < 1e-6]
    found, i = [], 0
    while i + 2 < len(alarm):
        if alarm[i + 2][1] - alarm[i][0] < 0.7:
            found.append(alarm[i][0])
            i += 3
        else:
            i += 1
    return found


@pytest.mark.parametrize("which", list(Cue))
def test_a_cue_sounds_once_as_it_is_written(which: Cue) -> None:
    assert lengths(heard([cue(1, CUES[which])], 20)) == on_times(CUES[which])


def test_without_cue_and_alarm_there_is_nothing_to_wait_for() -> None:
    assert Score().at(12.0) == (False, None)


def test_a_new_cue_replaces_a_running_one_with_a_breath_between_so_that_they_do_not_run_together() -> None:
    sounds = heard([cue(0, CUES[Cue.LOST]), cue(0.2, CUES[Cue.ACCEPTED])], 10)
    assert lengths(sounds) == [0.2, *on_times(CUES[Cue.ACCEPTED])]
    assert sounds[1][0] == pytest.approx(0.2 + BREATH_S)


def test_an_alarm_repeats_until_it_is_acknowledged_and_then_is_silent_at_once() -> None:
    sounds = heard([hold(0, FIRST), hold(30.05, CALM)], 100)
    assert len(begins(sounds)) >= 3
    assert sounds[-1][1] <= 30.05


def test_acknowledging_in_the_middle_of_a_pulse_cuts_it_off() -> None:
    assert lengths(heard([hold(0, FIRST), hold(0.05, CALM)], 100)) == [0.05]


def test_an_alarm_grows_stronger_at_once_when_it_is_told_to() -> None:
    sounds = heard([hold(0, FIRST), hold(60, STRONG)], 120)
    first_minute = sum(end - begin for begin, end in sounds if begin < 60)
    second_minute = sum(end - begin for begin, end in sounds if begin >= 60)
    assert second_minute > 2 * first_minute
    assert min(begin for begin, _ in sounds if begin >= 60) <= 60 + BREATH_S


def test_being_told_of_the_same_alarm_after_every_message_changes_nothing() -> None:
    told_often = heard([hold(t / 10, FIRST) for t in range(300)], 30)
    assert lengths(told_often) == lengths(heard([hold(0, FIRST)], 30))
    assert begins(told_often) == pytest.approx(begins(heard([hold(0, FIRST)], 30)))


def test_a_cue_during_an_alarm_sounds_at_once_and_whole_and_the_alarm_goes_on_after_a_pause() -> None:
    at_s = 0.2
    sounds = heard([hold(0, STRONG), cue(at_s, CUES[Cue.ACCEPTED])], 10)
    assert sounds[0] == pytest.approx((0, PULSE_S))
    mine = [sound for sound in sounds if sound[0] >= at_s]
    assert lengths(mine[:2]) == on_times(CUES[Cue.ACCEPTED])
    assert mine[0][0] <= at_s + BREATH_S
    assert mine[2][0] - mine[1][1] >= AFTER_CUE_S
    assert lengths(mine[2:12]) == on_times(STRONG)


def test_a_cue_in_the_rest_of_an_alarm_does_not_bring_its_next_round_forward() -> None:
    undisturbed = begins(heard([hold(0, FIRST)], 20))
    assert begins(heard([hold(0, FIRST), cue(2, CUES[Cue.GO_ON])], 20)) == pytest.approx(undisturbed)


def test_a_cue_that_is_still_sounding_when_an_alarm_begins_is_played_out_first() -> None:
    sounds = heard([cue(0, CUES[Cue.STOP]), hold(0.1, FIRST)], 3)
    assert lengths(sounds) == [*on_times(CUES[Cue.STOP]), *on_times(FIRST)]
    assert sounds[1][0] - sounds[0][1] >= AFTER_CUE_S


def longest_silence(sounds: list[Sound], until_s: float) -> float:
    """Of the alarm, however much else sounds."""
    return max(b - a for a, b in pairwise([0.0, *begins(sounds), until_s]))


@pytest.mark.parametrize("alarm", [FIRST, STRONG])
@pytest.mark.parametrize("which", [Cue.ACCEPTED, Cue.STOP, Cue.LOST])
def test_a_cue_every_third_of_a_second_does_not_drown_an_alarm(alarm: Pattern, which: Cue) -> None:
    flood = [cue(0.1 + i / 3, CUES[which]) for i in range(180)]
    assert longest_silence(heard([hold(0, alarm), *flood], 60), 60) <= 10


def placed(gaps: list[tuple[float, Cue]]) -> list[tuple[float, Cue]]:
    at_s, found = 0.0, []
    for gap_s, which in gaps:
        at_s += gap_s
        found.append((at_s, which))
    return found


moments = st.lists(st.tuples(st.floats(0.02, 1.2), st.sampled_from(list(Cue))), max_size=60).map(placed)


@settings(max_examples=150, deadline=None)
@given(happenings=moments, urgency=st.sampled_from([FIRST, STRONG]))
def test_however_many_cues_come_the_alarm_is_heard_at_least_every_ten_seconds(
    happenings: list[tuple[float, Cue]], urgency: Pattern
) -> None:
    sounds = heard([hold(0, urgency), *(cue(at_s, CUES[which]) for at_s, which in happenings)], 75)
    assert longest_silence(sounds, 75) <= 10


@settings(max_examples=150, deadline=None)
@given(happenings=moments.filter(bool), urgency=st.sampled_from([FIRST, STRONG]))
def test_however_an_alarm_sounds_the_last_cue_is_played_whole_and_waits_less_than_a_second_and_a_half(
    happenings: list[tuple[float, Cue]], urgency: Pattern
) -> None:
    last_s, last = max(happenings, key=lambda happening: happening[0])
    happenings = [(at_s, which) for at_s, which in happenings if at_s < last_s - 1e-6]
    sounds = heard([hold(0, urgency), *(cue(t, CUES[w]) for t, w in happenings), cue(last_s, CUES[last])], 80)
    wanted = on_times(CUES[last])
    found = [
        sounds[i][0] - last_s
        for i in range(len(sounds))
        if sounds[i][0] >= last_s - 1e-9 and lengths(sounds[i : i + len(wanted)]) == wanted
    ]
    assert found
    assert found[0] < 1.5
