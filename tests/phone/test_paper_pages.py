"""The pages of papers and exports, on a desk that keeps what it was asked."""

from __future__ import annotations

import io
import re

import pytest

from station.errors import Refused, WrongField
from station.phone.paper_view import Choice, ExportView, Making
from tests.phone.shown import QUIET, opened_station


class SmallDesk:
    """Implements `phone.paper_view.PaperDesk`."""

    def __init__(self) -> None:
        self.view, self.asked, self.photos = ExportView(), [], 0.0

    def record(self, number, address):
        self.asked.append(("record", number, address))
        return io.BytesIO(b"%PDF-1.4 record")

    def labels(self, number, typed, address):
        if typed.get("start") == "99":
            raise WrongField("start", "<Too far.>")
        self.asked.append(("labels", number, dict(typed)))
        return io.BytesIO(b"%PDF-1.4 labels")

    def kinds(self):
        return [Choice("part", "part"), Choice("cup", "cup")]

    def sizes(self):
        return [Choice("50x25", "50 × 25 mm"), Choice("a4-3x8", "A4")]

    def addresses(self):
        return ["http://bench.local/", "http://192.0.2.7/"]

    def years(self):
        return [2027, 2026]

    def photos_mib(self):
        return self.photos

    def about(self):
        return [("casts", "One line for each cast.", [("number", "whole number", "its number")])]

    def rules(self):
        return ["Masses are whole milligrams."]

    def state(self):
        return self.view

    def begin(self, what):
        if what == "1999":
            raise Refused("There is no such export.")
        self.asked.append(("begin", what))

    def stop(self):
        self.asked.append(("stop",))

    def made(self):
        if self.view.state is not Making.MADE:
            raise Refused("There is no export any more.")
        return self.view.name, io.BytesIO(b"PK zip")


OURS = {"Origin": "http://localhost"}


@pytest.fixture
def desk():
    return SmallDesk()


@pytest.fixture
def shop(desk):
    with opened_station(paper=desk) as station:
        station.post(QUIET)
        yield station


def sent(visitor, place, **form):
    return visitor.client.post(place, data={"token": visitor.token, **form}, headers=OURS)


def test_a_cast_leads_to_its_paper_and_labels_and_they_are_shown_as_pdf(shop, desk):
    client = shop.client()
    page = client.get("/log/3").get_data(as_text=True)
    assert '<a class="button" href="/log/3.pdf">' in page
    assert '<a class="button" href="/labels/3">' in page
    answer = client.get("/log/3.pdf")
    assert (answer.status_code, answer.mimetype, answer.data) == (200, "application/pdf", b"%PDF-1.4 record")
    assert answer.headers["Content-Disposition"] == "inline; filename=cast-3.pdf"
    assert answer.headers["Cache-Control"] == "no-store"
    assert desk.asked == [("record", 3, "http://localhost/")]


def test_photos_are_offered_with_what_they_add_where_there_are_any(shop, desk):
    visitor = shop.paired()
    assert "without photos" not in visitor.look("/export")
    desk.photos = 12.31
    page = visitor.look("/export")
    assert '<option value="all">the log with photos (+12.4 MiB)</option>' in page
    assert '<option value="all-without-photos">the log without photos</option>' in page


def test_of_a_cast_that_is_not_there_nothing_is_made(shop, desk):
    client = shop.client()
    for place in ("/log/99.pdf", "/labels/99", "/labels/99.pdf"):
        assert client.get(place).status_code == 404, place
    assert desk.asked == []


def test_labels_are_chosen_by_an_address_that_can_be_kept(shop, desk):
    client = shop.client()
    page = client.get("/labels/3?size=a4-3x8&copies=4").get_data(as_text=True)
    assert '<form class="paper-form" method="get" action="/labels/3.pdf">' in page
    assert '<option value="a4-3x8" selected>A4</option>' in page
    assert 'name="copies" type="number" inputmode="numeric" min="1" max="100" value="4"' in page
    assert "http://192.0.2.7/" in page
    answer = client.get("/labels/3.pdf?on=cup&size=a4-3x8&copies=4&start=5&at=http://192.0.2.7/")
    assert answer.data == b"%PDF-1.4 labels"
    chosen = {"on": "cup", "size": "a4-3x8", "copies": "4", "start": "5", "at": "http://192.0.2.7/"}
    assert desk.asked == [("labels", 3, chosen)]


def test_a_wrong_choice_is_shown_in_the_form_with_what_was_chosen(shop, desk):
    answer = shop.client().get("/labels/3.pdf?on=cup&start=99")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 400
    assert '<p class="banner" role="alert" id="slip">&lt;Too far.&gt;</p>' in page
    assert re.search(r'name="start"[^>]*value="99" aria-invalid="true" aria-describedby="slip"', page)
    assert '<option value="cup" selected>' in page


def test_only_a_paired_device_makes_stops_and_takes_an_export(shop, desk):
    page = shop.client().get("/export").get_data(as_text=True)
    assert "Pair this device" in page
    assert "<form method" not in page
    assert "One line for each cast." in page
    visitor = shop.paired()
    assert '<option value="all">' in visitor.look("/export")
    assert '<option value="2026">archive of 2026</option>' in visitor.look("/export")
    answer = sent(visitor, "/export/make", what="2026")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/export")
    refused = sent(visitor, "/export/make", what="1999")
    assert refused.status_code == 409
    assert "There is no such export." in refused.get_data(as_text=True)
    assert sent(visitor, "/export/stop").status_code == 303
    assert desk.asked == [("begin", "2026"), ("stop",)]


def test_an_export_tells_how_far_it_is_and_is_fetched_when_it_is_made(shop, desk):
    visitor = shop.paired()
    assert sent(visitor, "/export/take").status_code == 409
    desk.view = ExportView(Making.MAKING, "log.zip", casts=1200)
    page = visitor.look("/export")
    assert "1200 casts are done." in page
    assert '<meta http-equiv="refresh" content="5">' in page
    assert 'action="/export/make"' not in page
    desk.view = ExportView(Making.MADE, "log.zip", casts=1400, size=3 * 2**20)
    assert "1400 casts, 3.0 MiB, read back and whole." in visitor.look("/export")
    answer = sent(visitor, "/export/take")
    assert (answer.data, answer.headers["Content-Disposition"]) == (b"PK zip", "attachment; filename=log.zip")
    desk.view = ExportView(Making.FAILED, "log.zip", words="The <card> is full.")
    assert "log.zip was not made. The &lt;card&gt; is full." in visitor.look("/export")
