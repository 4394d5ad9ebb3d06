"""Looking is free; touching needs this station's own page, its token, its name and a paired device."""

import re

import pytest

from station.phone.guard import host_allowed, same_origin
from tests.phone.shown import WEIGHING, opened_station

OURS = "http://localhost"
PAIRING = ("/pair", "/pair/ask")


def acting_routes():
    """Every address that takes something else than looking, straight from the application."""
    with opened_station() as station:
        rules = station.app.url_map.iter_rules()
        acting = [(r.rule, m) for r in rules for m in (r.methods or ()) if m not in ("GET", "HEAD", "OPTIONS")]
    return sorted((re.sub(r"<int:\w+>", "7", rule), method) for rule, method in acting)


ROUTES = acting_routes()
FORM = {"press": "short", "number": "14", "clock": "DEMOLD", "reason": "torn", "text": "a note"}
FORM |= {"material": "foam", "mold": "pad", "amount": "", "begin": "1", "ticket": "7", "place": "1"}


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


def test_the_routes_that_act_are_the_ones_meant_to():
    assert {route for route, _ in ROUTES} == {
        "/api/abort",
        "/api/acknowledge",
        "/api/begin",
        "/api/demold",
        "/api/note",
        "/api/press",
        "/api/take",
        "/new",
        "/new/queue/7/drop",
        "/new/queue/7/move",
        "/pair",
        "/pair/ask",
        "/pair/leave",
        "/time/gap",
        "/time/set",
    }
    assert {method for _, method in ROUTES} == {"POST"}


@pytest.mark.parametrize(("route", "method"), ROUTES)
def test_a_paired_device_on_our_own_page_may_act(station, visitor, route, method):
    # The control for the refusals below: the same request, with nothing wrong about it, gets through.
    assert attempt(visitor, route, method).status_code != 403


@pytest.mark.parametrize(("route", "method"), ROUTES)
@pytest.mark.parametrize(
    "wrong",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "https://localhost:8443"},
        {"origin": "http://localhost.elsewhere.example"},
        {"origin": "null"},
        {"origin": None},
        {"origin": None, "referer": "http://elsewhere.example/http://localhost/"},
        {"token": None},
        {"token": "guessed"},
        {"token": "ünicode"},
        {"host": "elsewhere.example", "origin": "http://elsewhere.example"},
    ],
    ids=str,
)
def test_every_acting_route_refuses_what_is_not_ours(station, visitor, route, method, wrong):
    codes = len(station.codes)
    answer = attempt(visitor, route, method, **wrong)
    assert answer.status_code == 403
    assert station.asked.commands == []
    assert len(station.codes) == codes


@pytest.mark.parametrize(("route", "method"), [r for r in ROUTES if r[0] not in PAIRING])
def test_every_acting_route_but_pairing_refuses_a_device_that_is_not_paired(station, route, method):
    with opened_station() as other:
        stranger = other.paired()
    visitor_here = type(stranger)(station.client())
    visitor_here.look()
    answer = attempt(visitor_here, route, method)
    assert answer.status_code == 403
    assert "may look, but not touch" in answer.get_data(as_text=True)
    assert station.asked.commands == []


def test_a_referer_of_our_own_stands_in_for_an_origin(station, visitor):
    assert attempt(visitor, "/api/press", "POST", origin=None, referer="http://localhost/").status_code == 303
    assert len(station.asked.commands) == 1


@pytest.mark.parametrize("place", ["/", "/curing", "/log", "/api/state", "/api/stream", "/static/station.css"])
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
        assert "<button" not in page
