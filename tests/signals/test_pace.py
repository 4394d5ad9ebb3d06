"""The pace as ticks: quicker the slower the hand shall pour, never over an alarm, never run into a cue."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from gpiozero import TonalBuzzer
from gpiozero.pins.mock import MockFactory, MockPWMPin
from hypothesis import given
from hypothesis import strategies as st

from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES, QUICKEST_S, SLOWEST_S, STOP_HZ, TICK, Pattern, pitch_hz, ticks
from station.signals.score import AFTER_CUE_S, BREATH_S, Score
from tests.signals.listening import cue, heard, hold, lengths

FIRST = ALARMS[Urgency.FIRST]


def pace(at_s: float, pattern: Pattern):  # type: ignore[no-untyped-def]
    return at_s, lambda score, now_s: score.pace(pattern, now_s)


def test_a_free_hand_hears_nothing() -> None:
    assert ticks(None) == ticks(0.0) == ()
    assert heard([pace(0, ticks(0.0))], 5) == []
    assert Score().at(1.0) == (False, None)


@given(st.floats(0.06, 1), st.floats(0.06, 1))
def test_the_slower_the_hand_shall_pour_the_quicker_it_ticks(one: float, other: float) -> None:
    slow, quick = sorted((one, other))
    periods = [sum(ticks(p)[0]) for p in (slow, quick)]
    assert SLOWEST_S >= periods[0] >= periods[1] >= QUICKEST_S - 1e-9
    assert ticks(one)[0][0] == TICK


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_tonal_buzzer_ticks_the_higher_the_thinner_the_stream_and_never_near_the_stop(a: float, b: float) -> None:
    """The frequencies of the buzzer's library itself: its range is an octave about its middle tone."""
    low, high = sorted((a, b))
    assert pitch_hz(low) <= pitch_hz(high)
    with TonalBuzzer(18, pin_factory=MockFactory(pin_class=MockPWMPin)) as buzzer:
        buzzer.play(pitch_hz(high))
        assert buzzer.tone.frequency <= buzzer.max_tone.frequency
    assert pitch_hz(low) >= STOP_HZ * Fraction(4, 3) * 0.99, "a pure fourth is 4:3"
    assert pitch_hz(1.0) == pytest.approx(2 * STOP_HZ)


def test_it_ticks_at_its_period_until_told_otherwise() -> None:
    sounds = heard([pace(0.5, ticks(0.5)), pace(4.0, ())], 10)
    starts = [begin for begin, _ in sounds]
    assert set(lengths(sounds)) == {TICK}
    assert {round(b - a, 6) for a, b in pairwise(starts)} == {round(sum(ticks(0.5)[0]), 6)}
    assert starts[0] == 0.5
    assert starts[-1] <= 4.0


def test_a_quicker_pace_takes_hold_within_its_own_period() -> None:
    sounds = heard([pace(0, ticks(0.1)), pace(0.2, ticks(1.0))], 2)
    assert sounds[1][0] == pytest.approx(0.2, abs=QUICKEST_S)


def test_the_stop_is_alone_after_a_breath_and_the_ticks_are_over() -> None:
    stop = CUES[Cue.STOP]
    sounds = heard([pace(0, ticks(1.0)), pace(1.3, ()), cue(1.3, stop)], 5)
    assert lengths(sounds)[-1] == stop[0][0]
    assert sounds[-1][0] - sounds[-2][1] >= BREATH_S - 1e-9
    assert sounds[-1][0] <= 1.3 + TICK + BREATH_S + 1e-9


def test_after_a_cue_there_is_silence_before_it_ticks_on() -> None:
    sounds = heard([pace(0, ticks(1.0)), cue(1.0, CUES[Cue.CONTACT])], 4)
    until = next(i for i, length in enumerate(lengths(sounds)) if length == 0.45)
    assert sounds[until + 2][0] - sounds[until + 1][1] >= AFTER_CUE_S


def test_nothing_ticks_while_an_alarm_is_held() -> None:
    sounds = heard([pace(0, ticks(1.0)), hold(1.0, FIRST), hold(9.0, ())], 12)
    between = [sound for sound in sounds if 1.0 + TICK < sound[0] < 9.0]
    assert TICK not in lengths(between)
    assert lengths(between).count(FIRST[0][0]) >= 3
    assert TICK in lengths([sound for sound in sounds if sound[0] > 9.0])
