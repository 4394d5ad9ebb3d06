"""What a bench tells of itself: the same after the way through text, and clocks run on when nobody hears from it."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.benches.telling import NotReadable, heard, told
from station.core.at_hand import AlarmAtHand, AtHand, CastAtHand, aged, at_hand, without_time
from station.core.clocks import AlarmState, ClockKind
from station.core.snapshot import DialView
from station.core.views import snapshot
from tests.play import CARD, DAY, GRIP, SILICONE, Play

texts = st.text(max_size=20)
spans = st.floats(-1e6, 1e6)
dials = st.builds(
    DialView,
    kind=st.sampled_from(ClockKind),
    fraction=st.floats(0, 1),
    left_s=spans | st.just(math.inf),
    length_s=st.floats(0, 1e6),
    running=st.booleans(),
    alarm=st.sampled_from(AlarmState),
    due=st.none() | st.timedeltas(timedelta(0), timedelta(days=400)).map(lambda d: DAY + d),
    unknown_gap=st.booleans(),
)
values = st.builds(
    AtHand,
    st.lists(
        st.builds(
            CastAtHand,
            st.integers(1, 9**9),
            texts,
            texts,
            texts,
            st.booleans(),
            st.booleans(),
            st.lists(dials, max_size=3).map(tuple),
        ),
        max_size=3,
    ).map(tuple),
    st.lists(
        st.builds(AlarmAtHand, st.integers(1, 99), st.sampled_from(ClockKind), st.none() | spans, st.booleans(), texts),
        max_size=3,
    ).map(tuple),
)


@given(values)
def test_what_is_told_is_what_is_heard(value: AtHand) -> None:
    text = told(value)
    assert heard(text) == value
    assert text.isascii()


@pytest.mark.parametrize(
    "text",
    ["", "[", "5", "null", '{"casts": 1}', '{"casts": [{"number": "x"}]}', '{"alarms": [{"clock": "tea time"}]}'],
)
def test_words_of_another_version_are_told_in_a_sentence(text: str) -> None:
    with pytest.raises(NotReadable, match="cannot be read by this station"):
        heard(text)


def poured() -> Play:
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    play.pour("20", g_per_s=3)
    play.wait(181)
    play.press()
    play.press()
    return play


def shown(play: Play) -> AtHand:
    return at_hand(snapshot(play.bench, play.now, 1, CARD))


def test_a_clock_told_an_hour_ago_stands_where_the_bench_itself_would_show_it() -> None:
    play = poured()
    before = shown(play)
    play.wait(3600, tick_s=60)
    told_then, now = aged(before, 3600, play.wall).casts[0], shown(play).casts[0]
    assert [dial.kind for dial in now.dials] == [ClockKind.DEMOLD, ClockKind.FULL_CURE]
    for then, live in zip(told_then.dials, now.dials, strict=True):
        assert then.left_s == pytest.approx(live.left_s)
        assert then.fraction == pytest.approx(live.fraction)
        assert then.due is not None
        assert live.due is not None
        assert abs(then.due - live.due) < timedelta(seconds=1)


def test_only_what_happens_makes_a_difference_not_time_alone() -> None:
    play = poured()
    before = without_time(shown(play))
    play.wait(60)
    assert without_time(shown(play)) == before
    play.wait(14400, tick_s=60)
    after = without_time(shown(play))
    assert after != before
    assert [(alarm.number, alarm.clock) for alarm in after.alarms] == [(1, ClockKind.DEMOLD)]


def test_a_cure_that_stands_still_still_stands_still_when_it_is_old() -> None:
    still = DialView(ClockKind.DEMOLD, 0.4, math.inf, 100.0, True, AlarmState.WAITING, None, False)
    value = AtHand((CastAtHand(1, "m", "g", "", False, False, (still,)),))
    assert '"left_s":null' in told(value)
    assert aged(heard(told(value)), 1e6, DAY) == value
