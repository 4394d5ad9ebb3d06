"""The rules of the guard one by one; `test_every_route` goes through the whole map with them."""

import re

import pytest

from station.phone.guard import host_allowed, same_origin
from tests.phone.shown import WEIGHING

OURS = "http://localhost"


FORM = {"press": "short", "number": "14", "clock": "DEMOLD", "reason": "torn", "text": "a note"}
FORM |= {"material": "foam", "mold": "pad", "amount": "", "begin": "1"}


@pytest.fixture
def visitor(station):
    return station.paired()


def attempt(visitor, route, method, *, origin=OURS, token=True, host="localhost", referer=None):
    headers = {"Host": host}
    if origin is not None:
        headers["Origin"] = origin
    if referer is not None:
        headers["Referer"] = referer
    form = FORM | ({"token": visitor.token} if token is True else {} if token is None else {"token": token})
    return visitor.client.open(route, method=method, data=form, headers=headers)


def test_a_referer_of_our_own_stands_in_for_an_origin(station, visitor):
    assert attempt(visitor, "/api/press", "POST", origin=None, referer="http://localhost/").status_code == 303
    assert len(station.asked.commands) == 1


@pytest.mark.parametrize("place", ["/", "/curing", "/log", "/api/state", "/api/stream", "/static/0/station.css"])
def test_no_page_answers_to_a_foreign_name(station, place):
    assert station.client().get(place, headers={"Host": "rebound.example"}).status_code == 403


@pytest.mark.parametrize(
    ("host", "ours"),
    [
        ("192.168.4.7", True),
        ("192.168.4.7:8080", True),
        ("[fe80::1]:8080", True),
        ("[::1]", True),
        ("localhost:8080", True),
        ("bench.local", True),
        ("BENCH.local.:8080", True),
        ("bench.local.elsewhere.example", False),
        ("localhost.elsewhere.example", False),
        ("127.0.0.1.elsewhere.example", False),
        ("", False),
        ("[", False),
        ("3232236551.example", False),
    ],
)
def test_an_address_in_numbers_always_passes_and_a_name_only_when_it_is_ours(host, ours):
    assert host_allowed(host, {"bench.local"}) is ours


@pytest.mark.parametrize("said", [None, "", "null", "http://[", "ftp://bench.local", "//bench.local", "bench.local"])
def test_an_origin_that_says_nothing_counts_as_foreign(said):
    assert not same_origin(said, "bench.local")


@pytest.mark.parametrize(
    "place", ["/", "/curing", "/log", "/log/3", "/new", "/pair", "/give-up/14", "/api/state", "/no"]
)
def test_every_answer_forbids_foreign_content_frames_and_guesses(station, place):
    headers = station.client().get(place).headers
    assert headers["Content-Security-Policy"].startswith("default-src 'self';")
    assert "unsafe" not in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Cache-Control"] == "no-store"


def test_too_large_a_body_is_refused_however_it_is_coded(station, visitor):
    long = "x" * 20_000
    assert visitor.ask("note", {"number": 14, "text": long}).status_code == 413
    assert visitor.send("/api/note", number="14", text=long).status_code == 413
    assert station.asked.commands == []


def test_the_page_for_a_stranger_has_no_button_that_acts(station):
    stranger = station.client()
    station.post(WEIGHING)
    for place in ("/", "/curing"):
        page = stranger.get(place).get_data(as_text=True)
        # The bell of the page is the phone's own; a form would ask something of the bench.
        assert "<form" not in page
        assert re.findall(r"<button (?!type=\"button\")", page) == []
