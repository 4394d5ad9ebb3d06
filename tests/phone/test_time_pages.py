"""The page of the time: what it shows, what it takes from a phone or by hand, what it refuses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from station.core.messages import TellGap, TellTime
from station.core.snapshot import Banner, BannerKind, Snapshot
from station.core.time_view import GapView, TimeState, TimeView
from station.errors import Refused
from station.phone.orders import NotUnderstood
from station.phone.time_pages import told_time
from tests.phone.shown import AT, QUIET, Station, Visitor, opened_station
from tests.phone.test_pages import plain

GAP = GapView(
    "boot-2",
    "The station was off for an unknown time while cast 12 cured: how long?",
    "counts nothing for curing",
    None,
    True,
)
UNKNOWN = TimeView(TimeState.UNKNOWN, None, "", None, (GAP,))
SET = TimeView(TimeState.SET, 720.0, "page (phone 1)", None, ())
HEARD = TimeView(TimeState.HEARD, 3600.0, "", 420.0, ())


def seen(view: TimeView) -> Snapshot:
    trusted = view.state is not TimeState.UNKNOWN
    at = replace(AT, trusted=trusted, by_hand=view.state is TimeState.SET)
    banners = (Banner(BannerKind.TIME, "The station does not know the time.", "Set the time"),) if not trusted else ()
    return replace(QUIET, at=at, time=view, banners=banners)


@pytest.fixture
def station() -> Iterator[Station]:
    with opened_station() as opened:
        opened.post(seen(UNKNOWN))
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired("phone 1")


def test_a_station_that_does_not_know_the_time_says_so_everywhere_and_leads_to_its_page(visitor: Visitor) -> None:
    bench = visitor.look("/")
    assert "The station does not know the time." in plain(bench)
    assert 'href="/time"' in bench
    words = plain(visitor.look("/time"))
    assert "The station does not know the time of day." in words
    assert "No time service has been heard since the power came on" in words


def test_the_question_has_its_safe_side_chosen_beforehand(visitor: Visitor) -> None:
    page = visitor.look("/time")
    assert "while cast 12 cured: how long?" in plain(page)
    assert '<input type="radio" name="answer" value="unknown" checked>' in page
    assert "I do not know: the station counts nothing for curing." in plain(page)


def test_a_device_that_is_not_paired_may_look_but_finds_no_form(station: Station) -> None:
    page = station.client().get("/time").get_data(as_text=True)
    assert "how long?" in page
    assert "<form" not in page.split("<main")[1].split("</main>")[0]


def test_both_answers_reach_the_bench(station: Station, visitor: Visitor) -> None:
    visitor.look("/time")
    assert visitor.send("/time/gap", boot="boot-2", answer="unknown", off="").status_code == 303
    assert visitor.send("/time/gap", boot="boot-2", answer="known", off="1 h 10 min").status_code == 303
    by = "page (phone 1)"
    assert station.asked.commands == [TellGap("boot-2", None, by), TellGap("boot-2", 4200.0, by)]


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"answer": "unknown", "off": "40 min"}, "chose that you do not know"),
        ({"answer": "known", "off": ""}, "How long was the station off?"),
        ({"answer": "known", "off": "soon"}, "soon"),
        ({"answer": "known", "off": "40 g"}, "40 g"),
        ({"answer": "known", "off": "40"}, "40"),
        ({"off": "40 min"}, "Choose whether you know"),
    ],
)
def test_an_answer_that_says_nothing_is_refused_and_stays_typed(
    station: Station, visitor: Visitor, form: dict[str, str], words: str
) -> None:
    visitor.look("/time")
    answer = visitor.send("/time/gap", boot="boot-2", **form)
    assert answer.status_code == 409
    assert words in plain(answer.get_data(as_text=True))
    assert station.asked.commands == []


def test_what_the_bench_refuses_is_said_on_the_page(station: Station, visitor: Visitor) -> None:
    visitor.look("/time")
    station.asked.refuses = Refused("The station cannot have been off for less than no time.")
    answer = visitor.send("/time/gap", boot="boot-2", answer="known", off="-5 min")
    assert answer.status_code == 409
    assert "less than no time" in answer.get_data(as_text=True)


@pytest.mark.parametrize(
    ("now", "zone", "utc"),
    [
        ("2026-03-02T09:14", "+01:00", datetime(2026, 3, 2, 8, 14, tzinfo=UTC)),
        ("2026-03-02 09:14:30", "-3:30", datetime(2026, 3, 2, 12, 44, 30, tzinfo=UTC)),
        ("2026-10-25T02:30", "UTC+2", datetime(2026, 10, 25, 0, 30, tzinfo=UTC)),
        ("2026-10-25T02:30", "+0100", datetime(2026, 10, 25, 1, 30, tzinfo=UTC)),
        ("2026-03-02T09:14", "UTC", datetime(2026, 3, 2, 9, 14, tzinfo=UTC)),
    ],
)
def test_a_time_with_its_offset_from_utc_is_understood(now: str, zone: str, utc: datetime) -> None:
    assert told_time({"now": now, "zone": zone}, "page") == TellTime(utc, "page")


@pytest.mark.parametrize(
    ("now", "zone", "words"),
    [
        ("", "+01:00", "what time it is now"),
        ("nine", "+01:00", "no date and time"),
        ("2026-02-30T09:14", "+01:00", "no date and time"),
        ("2026-03-02T09:14+01:00", "+01:00", "no date and time"),
        ("0001-01-01T00:00", "+14:00", "no date and time"),
        ("2026-03-02T09:14", "", "UTC offset"),
        ("2026-03-02T09:14", "Central", "no offset from UTC"),
        ("2026-03-02T09:14", "+25:00", "no offset from UTC"),
    ],
)
def test_a_time_that_is_none_is_refused_with_a_sentence(now: str, zone: str, words: str) -> None:
    with pytest.raises(NotUnderstood, match=words):
        told_time({"now": now, "zone": zone}, "page")


def test_a_time_set_by_hand_is_marked_as_such_and_can_be_set_again(station: Station, visitor: Visitor) -> None:
    station.post(replace(seen(SET), seq=2))
    page = visitor.look("/time")
    assert "Set by hand 12 min ago by page (phone 1)" in plain(page)
    assert "Set from this phone" in page


def test_a_station_that_heard_a_time_service_offers_no_setting_and_tells_by_how_much_a_hand_was_wrong(
    station: Station, visitor: Visitor
) -> None:
    station.post(replace(seen(HEARD), seq=2))
    page = visitor.look("/time")
    assert "Set from this phone" not in page
    assert "The time set by hand was 7 min behind the time service's." in plain(page)


def test_before_the_bench_has_shown_anything_the_page_is_there() -> None:
    with opened_station() as opened:
        assert opened.client().get("/time").status_code == 200
