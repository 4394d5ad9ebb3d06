"""When a cast may come out, in words: never sooner than the bell, with its uncertainty beside it."""

import math
from dataclasses import replace
from datetime import timedelta

import pytest

from station.core.snapshot import ReadyView
from station.phone.wire_ready import ready_words
from tests.phone.shown import AT, CURING, QUIET, WALL
from tests.phone.test_pages import plain

READY = ReadyView(
    age_s=3600.0,
    length_s=14400.0,
    reference_c=23.0,
    celsius=21.5,
    surely_s=9000.0,
    surely=WALL + timedelta(seconds=9000),
    soonest_s=5400.0,
    soonest=WALL + timedelta(seconds=5400),
)


def clock(seconds):
    return f"{(WALL + timedelta(seconds=seconds)).astimezone():%H:%M}"


def test_the_range_is_told_in_words_and_clock_time():
    assert ready_words(READY, AT) == {
        "aged": "60 min of 4 h at 23 °C have counted.",
        "not_before": f"Not before {clock(9000)}, in 2 h 30.",
        "range": f"At the fastest it would be ready {clock(5400)}, in 1 h 30. "
        "The bell waits for the slowest if it stays at 21.5 °C.",
    }


@pytest.mark.parametrize(
    ("changed", "not_before", "wide"),
    [
        ({"surely": None, "soonest": None}, "Not before in 2 h 30.", "ready in 1 h 30."),
        ({"surely_s": math.inf, "surely": None}, "too cold to cure", ""),
        ({"surely_s": -5.0}, "It may come out of the mold now.", ""),
        ({"soonest_s": None}, "Not before", "That holds if it stays at 21.5 °C."),
        ({"soonest_s": None, "celsius": None}, "Not before", "No temperature is measured here"),
        ({"soonest_s": 0.0}, "Not before", "ready already"),
    ],
)
def test_what_is_not_known_is_not_said(changed, not_before, wide):
    said = ready_words(replace(READY, **changed), AT)
    assert not_before in said["not_before"]
    assert wide in said["range"]
    assert bool(said["range"]) == bool(wide)


def test_a_part_that_is_out_of_its_mold_waits_for_nothing():
    assert ready_words(None, AT) == {"aged": "", "not_before": "", "range": ""}


def test_the_card_of_a_cast_has_its_bell_and_the_way_to_its_note(station):
    page = station.paired().look("/curing")
    eleven, twelve = page.split('<article class="cast"')[1:3]
    assert "Silence the bell" in eleven.split("hidden><form")[0]
    assert 'href="/log/12#note"' in twelve
    assert f"Not before {clock(1520)}, in 25:20." in plain(f"<body>{twelve}")
    station.post(replace(QUIET, seq=2, curing=CURING))
    quiet = station.client().get("/api/state").get_json()["curing"]
    assert [cast["bell"] for cast in quiet] == [None, None]
