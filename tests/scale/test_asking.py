"""The pace of requests: one under way, never in quick succession."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.scale.asking import Asking


def test_the_first_request_is_due_at_once() -> None:
    assert Asking(b"SI\r\n", 0.5).due_in(1000.0) == 0.0


def test_after_an_answer_the_next_request_waits_out_the_interval() -> None:
    asking = Asking(b"SI\r\n", 0.5)
    asking.sent(10.0)
    asking.heard()
    assert asking.due_in(10.1) == pytest.approx(0.4)
    assert asking.due_in(10.6) == 0.0


def test_without_an_answer_the_request_is_sent_again_only_after_a_longer_wait() -> None:
    asking = Asking(b"SI\r\n", 0.5, patience_s=1.5)
    asking.sent(10.0)
    assert asking.due_in(10.6) == pytest.approx(0.9)
    assert asking.due_in(11.5) == 0.0


def test_patience_is_never_shorter_than_the_interval() -> None:
    asking = Asking(b"SI\r\n", 4.0, patience_s=1.5)
    asking.sent(10.0)
    assert asking.due_in(12.0) == pytest.approx(2.0)


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0.001, 2.0), st.booleans()), min_size=5, max_size=60))
def test_whatever_is_heard_requests_are_never_closer_than_the_interval(turns: list[tuple[float, bool]]) -> None:
    asking, now, sent = Asking(b"SI\r\n", 0.5), 100.0, []
    for wait, heard in turns:
        if asking.due_in(now) <= 0:
            asking.sent(now)
            sent.append(now)
        if heard:
            asking.heard()
        now += wait
    assert sent
    assert all(b - a >= 0.5 - 1e-9 for a, b in itertools.pairwise(sent))
