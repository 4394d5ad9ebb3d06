"""The page of the devices: who sees it, renaming, locking out, and the code that only paired devices are told."""

from dataclasses import replace
from itertools import islice

import pytest

from station.config import Look
from station.errors import LedgerFault
from station.phone.door_pages import ear_of
from tests.phone.shown import WEIGHING


@pytest.fixture
def visitor(station):
    return station.paired("bench screen")


def idents(station):
    return {one.name: one.id for one in station.door.paired()}


def test_a_stranger_sees_no_device_and_no_code(station, visitor):
    station.door.ask()
    stranger = station.client()
    answer = stranger.get("/devices")
    assert answer.status_code == 403
    assert "may look, but not touch" in answer.get_data(as_text=True)
    for rule in station.app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()) or rule.arguments or rule.rule == "/api/stream":
            continue
        for text in (stranger.get(rule.rule).get_data(as_text=True), str(stranger.get(rule.rule).headers)):
            assert "bench screen" not in text
            assert station.codes[-1] not in text.replace(" ", "")


def test_the_code_shows_on_every_paired_page_while_it_is_good_and_no_longer(station, visitor):
    assert 'class="banner" role="status" hidden' in visitor.look("/")
    answer = visitor.send("/pair/ask")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/devices")
    code = station.codes[-1]
    for place in ("/", "/curing", "/devices", "/log"):
        assert f"{code[:3]} {code[3:]}</b>" in visitor.look(place)
    other = station.paired("phone")
    assert code[:3] not in other.look("/").partition("<nav>")[0]
    assert "hidden" in other.look("/").partition('id="door"')[2][:60]


def told_by(station, ear, frames=4):
    stream = station.streams.opened(ear)
    try:
        return b"".join(next(stream) for _ in range(frames)).decode()
    finally:
        stream.close()


def test_the_stream_of_a_paired_device_tells_the_code_and_no_other_stream_does(station, visitor):
    station.door.ask()
    code = station.codes[-1]
    key = station.door.open(code, "phone")
    station.door.ask()
    code = f"{station.codes[-1][:3]} {station.codes[-1][3:]}"

    def ear(holding, look=Look.FREE):
        with station.app.test_request_context("/"):
            from flask import session

            if holding:
                session["pairing"] = holding
            return ear_of(station.door, look)

    assert code in told_by(station, ear(key))
    assert "event: door" not in told_by(station, ear(None))
    assert "event: door" not in told_by(station, ear("guessed"))


def test_a_stream_ends_when_its_device_is_locked_out_of_a_station_that_only_paired_devices_may_look_at(station):
    station.door.ask()
    key = station.door.open(station.codes[-1], "phone")
    with station.app.test_request_context("/"):
        from flask import session

        session["pairing"] = key
        stream = station.streams.opened(ear_of(station.door, Look.PAIRED))
    assert next(stream).startswith(b"retry")
    assert b"data: " in next(stream)
    station.door.lock_out(idents(station)["phone"])
    station.post(replace(WEIGHING, seq=9))
    assert list(islice(stream, 20)) == []
    stream.close()


def test_a_device_is_renamed_and_the_record_says_its_new_name_from_then_on(station, visitor):
    mine = idents(station)["bench screen"]
    assert visitor.send("/devices/rename", id=mine, name=" window \n tablet ").status_code == 303
    assert "<h2>window tablet</h2>" in visitor.look("/devices")
    visitor.ask("press", {"press": "short"})
    assert station.asked.commands[-1].by == "page (window tablet)"


def test_a_name_that_is_none_is_said_at_its_field_and_what_was_typed_stays(station, visitor):
    mine = idents(station)["bench screen"]
    answer = visitor.send("/devices/rename", id=mine, name="  ")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert f'aria-describedby="said-{mine}"' in page
    assert f'id="said-{mine}">A device needs a name.' in page
    gone = visitor.send("/devices/rename", id="nobody", name="x")
    assert gone.status_code == 409
    assert "not paired any more" in gone.get_data(as_text=True)


def test_this_device_is_marked_and_only_the_others_have_a_button_that_locks_them_out(station, visitor):
    station.paired("phone")
    page = visitor.look("/devices")
    assert page.count("✓ This device") == 1
    assert 'aria-label="Lock out phone"' in page
    assert 'aria-label="Lock out bench screen"' not in page
    assert "Lock out all other devices" in page


def test_the_next_touch_of_a_device_that_was_locked_out_is_refused_in_words(station, visitor):
    phone = station.paired("phone")
    assert visitor.send("/devices/lock-out", id=idents(station)["phone"]).status_code == 303
    answer = phone.ask("press", {"press": "short"})
    assert answer.status_code == 403
    assert answer.get_json()["refused"].startswith("This device is not paired any more: its pairing was ended")
    assert "Pair this device" in phone.client.get("/pair").get_data(as_text=True)
    assert station.asked.commands == []
    phone.pair(station, "phone again")
    assert phone.ask("press", {"press": "short"}).status_code == 200


def test_all_others_are_locked_out_at_once(station, visitor):
    others = [station.paired(name) for name in ("one", "two")]
    assert visitor.send("/devices/lock-out-others").status_code == 303
    assert [other.ask("press", {"press": "short"}).status_code for other in others] == [403, 403]
    assert visitor.ask("press", {"press": "short"}).status_code == 200
    assert list(idents(station)) == ["bench screen"]


def test_a_card_that_does_not_take_it_is_said_on_the_page(station, visitor, monkeypatch):
    def full():
        raise LedgerFault("devices.json cannot be written: No space left on device.")

    monkeypatch.setattr(station.door, "keep", full)
    answer = visitor.send("/devices/lock-out-others")
    assert answer.status_code == 503
    assert "No space left on device" in answer.get_data(as_text=True)


def test_a_wrong_code_keeps_the_name_that_was_typed_and_is_said_at_its_field(station):
    visitor = station.paired()
    visitor.send("/pair/leave")
    visitor.look("/pair")
    visitor.send("/pair/ask")
    answer = visitor.send("/pair", code="x", device="my phone")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert 'value="my phone"' in page
    assert 'aria-describedby="said"' in page
    assert 'id="said">That is not the code at the bench.' in page


def test_pairing_changes_the_token_so_that_none_from_before_may_act(station):
    visitor = station.paired()
    visitor.send("/pair/leave")
    visitor.look("/pair")
    before = visitor.token
    visitor.pair(station)
    visitor.token = before
    assert visitor.ask("press", {"press": "short"}).status_code == 403


def test_the_cookie_of_a_device_in_use_is_sent_again_once_a_day(station, visitor):
    sent = []
    for hours in (0, 1, 22, 2, 1, 24):
        station.clock.advance(hours * 3600)
        sent.append("Set-Cookie" in visitor.client.get("/").headers)
    assert sent == [False, False, True, False, False, True]
