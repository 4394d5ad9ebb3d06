"""Photos in the form of judging: taken with whatever button is pressed, and nothing that was typed is lost for it."""

from __future__ import annotations

import http.client
import io
import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from werkzeug.test import TestResponse

from station.core.judging_events import Verdict
from station.core.judging_messages import Judge
from station.errors import Refused
from station.phone.photos_sent import FORM_BYTES, MOST_AT_ONCE
from station.phone.server import serving
from tests.phone.judged_part import BY, SmallJudge
from tests.phone.shown import QUIET, Station, Visitor, opened_station
from tests.phone.small_log import RECORD
from tests.phone.test_photo_pages import OURS, SmallDesk


class Book(SmallJudge):
    """Keeps what it is told."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[object] = []
        self.ask = self.told.append


@pytest.fixture
def desk() -> SmallDesk:
    return SmallDesk()


@pytest.fixture
def judge() -> Book:
    return Book()


@pytest.fixture
def station(desk: SmallDesk, judge: Book) -> Iterator[Station]:
    with opened_station(photos=desk, judging=judge) as opened:
        opened.post(QUIET)
        opened.log.record = lambda number: replace(RECORD, number=number, photos=tuple(desk.photos))
        yield opened


@pytest.fixture
def visitor(station: Station) -> Visitor:
    return station.paired()


def send(visitor: Visitor, *contents: bytes, **form: str) -> TestResponse:
    files = [(io.BytesIO(content), f"{place}.jpg") for place, content in enumerate(contents, 1)]
    data = {"token": visitor.token, "photo": files, **form}
    return visitor.client.post("/judge/3", data=data, headers=OURS)


def test_the_form_shows_the_photos_there_are_and_takes_more(visitor: Visitor) -> None:
    page = visitor.look("/judge/3")
    assert '<form class="judge" method="post" action="/judge/3" enctype="multipart/form-data">' in page
    form = re.search(r'<form class="judge".*?</form>', page, re.DOTALL)
    assert form is not None
    assert 'capture="environment"' in form[0]
    assert form[0].count('<img src="/log/3/photos/small/') == 2


def test_a_photo_is_added_and_what_was_typed_stays_in_the_form(visitor: Visitor, desk: SmallDesk, judge: Book) -> None:
    answer = send(visitor, b"one", save="photos", caption="the heel", note="soft at the rim", mass="208,5")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 200
    assert desk.given == [(3, b"one", "the heel", BY)]
    assert judge.told == []
    assert "soft at the rim</textarea>" in page
    assert 'value="208,5"' in page
    assert 'name="caption" maxlength="200" autocomplete="off" value=""' in page


def test_one_button_keeps_the_verdict_and_the_photos(visitor: Visitor, desk: SmallDesk, judge: Book) -> None:
    answer = send(visitor, b"one", b"two", save="all", verdict="GOOD")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/judge/3#known")
    assert [content for _, content, _, _ in desk.given] == [b"one", b"two"]
    assert judge.told == [Judge(3, Verdict.GOOD, (), "", BY)]


def test_a_photo_alone_is_enough_for_the_button_that_keeps_all(visitor: Visitor, desk: SmallDesk, judge: Book) -> None:
    assert send(visitor, b"one", save="all").status_code == 303
    assert len(desk.given) == 1
    assert judge.told == []
    assert "Nothing was filled in." in send(visitor, save="all").get_data(as_text=True)


def test_a_slip_elsewhere_costs_no_photo(visitor: Visitor, desk: SmallDesk, judge: Book) -> None:
    answer = send(visitor, b"one", save="all", verdict="GOOD", mass="heavy")
    assert answer.status_code == 409
    assert 'id="mass-slip"' in answer.get_data(as_text=True)
    assert [content for _, content, _, _ in desk.given] == [b"one"]
    assert judge.told == []


def test_the_mass_is_taken_from_the_scale_and_the_photo_too(visitor: Visitor, desk: SmallDesk) -> None:
    send(visitor, b"one", pan="mass")
    assert [content for _, content, _, _ in desk.given] == [b"one"]


def test_a_photo_that_is_refused_is_said_and_the_verdict_is_kept(
    visitor: Visitor, desk: SmallDesk, judge: Book
) -> None:
    desk.refuses = {b"bad": Refused("It is empty.", "Take it again.")}
    answer = send(visitor, b"good", b"bad", save="all", verdict="GOOD", caption="the toe")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert "Photo 2 of 2 (“2.jpg”) was not added. It is empty. Take it again." in page
    assert [content for _, content, _, _ in desk.given] == [b"good"]
    assert judge.told == [Judge(3, Verdict.GOOD, (), "", BY)]


def test_none_chosen_is_said(visitor: Visitor) -> None:
    answer = send(visitor, save="photos", note="soft")
    assert answer.status_code == 409
    page = answer.get_data(as_text=True)
    assert "No photo was chosen." in page
    assert "soft</textarea>" in page


def test_more_than_fits_is_said_on_its_page(visitor: Visitor, desk: SmallDesk) -> None:
    answer = send(visitor, bytes(MOST_AT_ONCE + FORM_BYTES + 1), save="photos")
    assert answer.status_code == 413
    page = answer.get_data(as_text=True)
    assert "Send fewer photos at a time." in page
    assert "<h1>Judge cast 3" in page
    assert desk.given == []


def test_an_unpaired_phone_sends_none(station: Station, desk: SmallDesk) -> None:
    stranger = Visitor(station.client())
    stranger.look("/judge/3")
    assert send(stranger, b"one", save="photos").status_code == 403
    assert desk.given == []


def test_a_whole_photo_comes_through_the_server(visitor: Visitor, station: Station, desk: SmallDesk) -> None:
    cookie = visitor.client.get_cookie("tarebell-80")
    assert cookie is not None
    photo = b"\xff\xd8" + bytes(3_000_000)
    edge = b"--here\r\nContent-Disposition: form-data; name="
    body = (
        edge + b'"token"\r\n\r\n' + visitor.token.encode() + b"\r\n"
        + edge + b'"save"\r\n\r\nphotos\r\n'
        + edge + b'"photo"; filename="a.jpg"\r\n\r\n' + photo + b"\r\n--here--\r\n"
    )  # fmt: skip
    with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
        wire = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        kind = {"Content-Type": "multipart/form-data; boundary=here", "Origin": f"http://127.0.0.1:{port}"}
        wire.request("POST", "/judge/3", body, {"Cookie": f"tarebell-{port}={cookie.value}", **kind})
        assert wire.getresponse().status == 200
        wire.close()
    assert [content for _, content, _, _ in desk.given] == [photo]
