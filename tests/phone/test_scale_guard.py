"""The scale's page: a stranger may look on, forms take only what is ours, and what a scale says is never markup."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from station.phone.scale_desk import PortChoice
from tests.phone.shown import QUIET, Station, Visitor
from tests.phone.small_desk import GOOD, PORTS, RUNNING, TEXT, YES_NO, SmallDesk, checked, opened_with
from tests.phone.test_guard import attempt

ACTING = ("/scale/find", "/scale/check", "/scale/answer", "/scale/leave")


@pytest.fixture
def desk() -> SmallDesk:
    return SmallDesk()


@pytest.fixture
def station(desk: SmallDesk) -> Iterator[Station]:
    with opened_with(desk) as opened:
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired()


def test_whatever_comes_from_a_scale_or_a_port_is_text_and_never_markup(visitor, desk):
    evil = "<script>alert('x')</script>\"'"
    desk.view = replace(YES_NO, title=evil, told=(evil,) * 9, question=evil)
    desk.offered = (PortChoice(evil, evil, evil),)
    desk.done = (checked("2026-02-20", "2027-02-20", verdict=evil, reasons=(evil,), scale=evil),)
    pages = [visitor.look("/scale"), visitor.client.get("/scale/errand.json").get_json()["html"]]
    desk.view = replace(GOOD, outcome=evil)
    pages.append(visitor.look("/scale"))
    for page in pages:
        assert "<script>alert" not in page
        assert "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&#34;&#39;" in page


def test_a_stranger_sees_the_errand_and_can_touch_nothing(station, desk):
    for view in (None, YES_NO, TEXT, RUNNING):
        desk.view = view
        for place in ("/scale", "/scale/errand.json"):
            answer = station.client().get(place)
            assert answer.status_code == 200
            assert "<form" not in answer.get_data(as_text=True)
    desk.view = YES_NO
    assert "Pair this device to answer" in station.client().get("/scale").get_data(as_text=True)


@pytest.mark.parametrize("route", ACTING)
@pytest.mark.parametrize(
    "wrong",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "null"},
        {"origin": None},
        {"origin": None, "referer": "http://elsewhere.example/http://localhost/"},
        {"token": None},
        {"token": "guessed"},
        {"host": "elsewhere.example", "origin": "http://elsewhere.example"},
    ],
    ids=str,
)
def test_every_form_of_this_page_refuses_what_is_not_ours(visitor, desk, route, wrong):
    desk.view = TEXT
    assert attempt(visitor, route, "POST", **wrong).status_code == 403
    assert desk.calls == []
    visitor.client.post("/pair/leave", data={"token": visitor.token}, headers={"Origin": "http://localhost"})
    answer = attempt(visitor, route, "POST")
    assert answer.status_code == 403
    assert "may look, but not touch" in answer.get_data(as_text=True)
    assert desk.calls == []


def test_the_forms_that_act_are_the_ones_meant_to_and_each_of_them_takes_what_is_ours(station, visitor, desk):
    rules = [rule for rule in station.app.url_map.iter_rules() if rule.rule.startswith("/scale")]
    acting = {rule.rule for rule in rules if (rule.methods or set()) - {"GET", "HEAD", "OPTIONS"}}
    assert acting == set(ACTING)
    desk.view = TEXT
    for route in ACTING:
        form = {"token": visitor.token, "port": PORTS[0].name, "text": "500 g"}
        sent = visitor.client.post(route, data=form, headers={"Origin": "http://localhost"})
        assert sent.status_code == 303, route
    assert [call[0] for call in desk.calls] == ["find", "check", "answer", "leave"]


def test_the_link_to_the_page_stands_everywhere_and_only_where_there_is_a_desk(visitor):
    for place in ("/", "/curing", "/log", "/scale"):
        assert 'href="/scale"' in visitor.look(place)
    with opened_with(None) as other:
        stranger = other.paired()
        assert 'href="/scale"' not in stranger.look("/")
        for answer in (stranger.client.get("/scale"), stranger.send("/scale/check")):
            assert answer.status_code == 404
            assert answer.get_data(as_text=True) == "There is no such page here.\n"


def test_the_answers_of_this_page_are_never_stored_and_allow_no_foreign_content(station):
    for place in ("/scale", "/scale/errand.json"):
        headers = station.client().get(place).headers
        assert headers["Cache-Control"] == "no-store"
        assert headers["Content-Security-Policy"].startswith("default-src 'self';")
