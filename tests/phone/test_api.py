"""The API: what a touch becomes for the bench, and how each kind of no is told."""

import json

import pytest

from station.core.clocks import ClockKind
from station.core.messages import Abort, Acknowledge, AddNote, BeginCast, Demold, Press, Pressed
from station.errors import Fault, Refused
from station.phone.wire import state
from tests.phone.shown import WEIGHING, opened_station

BY = "page (test phone)"


@pytest.fixture
def visitor(station):
    return station.paired()


@pytest.mark.parametrize(
    ("what", "body", "command"),
    [
        ("press", {"press": "short"}, Pressed(Press.SHORT, BY)),
        ("press", {"press": "LONG"}, Pressed(Press.LONG, BY)),
        ("acknowledge", {"number": 11, "clock": "DEMOLD"}, Acknowledge(11, ClockKind.DEMOLD, BY)),
        ("abort", {"number": "14", "reason": " torn \n glove "}, Abort(14, "torn glove", BY)),
        ("demold", {"number": 11}, Demold(11, BY)),
        ("note", {"number": 11, "text": "bubbles at the toe"}, AddNote(11, "bubbles at the toe", BY)),
    ],
)
def test_a_touch_becomes_a_command_with_the_name_of_the_device(station, visitor, what, body, command):
    answer = visitor.ask(what, body)
    assert (answer.status_code, answer.get_json()) == (200, {"cast": 14})
    assert station.asked.commands == [command]


def test_a_batch_is_worked_out_and_begun(station, visitor):
    body = {"material": "foam", "mold": "pad", "amount": "190", "lot A": "L-7"}
    assert visitor.ask("begin", body).status_code == 200
    (command,) = station.asked.commands
    assert isinstance(command, BeginCast)
    assert (command.by, command.plan.total.mg, station.shelf.lots) == (BY, 190_000, [{"A": "L-7"}])


@pytest.mark.parametrize(
    ("what", "body", "says"),
    [
        ("press", {"press": "twice"}, "twice"),
        ("press", {}, "press"),
        ("press", [1], "JSON object"),
        ("note", {"number": 14, "text": "x" * 501}, "501"),
        ("begin", {"material": "foam"}, "mold"),
        ("begin", {"material": "foam", "mold": "pad", "lots": [1]}, "lots"),
        ("begin", {"material": "foam", "mold": "pad", "amount": 220}, "amount"),
        ("acknowledge", {"number": 11, "clock": "TEA"}, "TEA"),
        ("acknowledge", {"number": True, "clock": "DEMOLD"}, "number"),
        ("demold", {"number": "9" * 40}, "number"),
        ("demold", {"number": -1}, "number"),
        ("demold", {"number": 1.5}, "number"),
        ("demold", {"number": "٣"}, "number"),
        ("abort", {"number": 14, "reason": "   "}, "reason"),
        ("abort", {"number": 14, "reason": {"a": 1}}, "reason"),
    ],
)
def test_nonsense_gets_a_sentence_that_names_the_field_and_reaches_nobody(station, visitor, what, body, says):
    answer = visitor.ask(what, body)
    assert answer.status_code == 400
    assert says in answer.get_json()["refused"]
    assert station.asked.commands == []


def test_a_refusal_of_the_bench_is_told_as_such(station, visitor):
    station.asked.refuses = Refused("Nothing waits for a press.", "Look at the page.")
    answer = visitor.ask("press", {"press": "short"})
    assert (answer.status_code, answer.get_json()) == (
        409,
        {"refused": "Nothing waits for a press. Look at the page."},
    )


def test_a_bench_that_does_not_answer_is_told_as_such(station, visitor):
    station.asked.refuses = Fault("The bench did not answer.")
    answer = visitor.ask("press", {"press": "short"})
    assert (answer.status_code, answer.get_json()) == (503, {"refused": "The bench did not answer."})


def test_a_form_without_a_script_leads_back_to_its_page_and_nowhere_else(station, visitor):
    sent = {"number": "11", "clock": "DEMOLD"}
    assert visitor.send("/api/acknowledge", back="/curing", **sent).headers["Location"] == "/curing"
    for foreign in ("//elsewhere.example", "http://elsewhere.example/", "/log/1/../..", "javascript:1", ""):
        assert visitor.send("/api/acknowledge", back=foreign, **sent).headers["Location"] == "/"


def test_a_form_without_a_script_shows_a_refusal_as_a_page(station, visitor):
    station.asked.refuses = Refused("Nothing waits for a press.")
    answer = visitor.send("/api/press", press="short")
    assert answer.status_code == 409
    assert "Nothing waits for a press." in answer.get_data(as_text=True)
    assert answer.mimetype == "text/html"


def test_the_state_is_the_whole_snapshot(station):
    said = station.client().get("/api/state").get_json()
    assert said.pop("age_s") == 0.0
    assert said == json.loads(json.dumps(state(WEIGHING)))


def test_a_station_that_has_just_started_says_so():
    with opened_station() as station:
        answer = station.client().get("/api/state")
        assert answer.status_code == 503
        assert "just started" in answer.get_json()["refused"]
        assert station.client().get("/").status_code == 200


def test_an_unknown_address_is_a_sentence(station):
    answer = station.client().get("/nothing")
    assert (answer.status_code, answer.get_data(as_text=True)) == (404, "There is no such page here.\n")
    assert station.client().get("/api/press").status_code == 405
