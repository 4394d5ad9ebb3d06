"""The page Station: the way to every part that has a page, and how each part fares."""

import io
import re
import zipfile
from dataclasses import replace

import pytest

from station.core.mass import Mass
from station.errors import LedgerFault
from station.overview.desk import MOST_ADDRESSES
from station.phone.station_view import Fare, Part
from tests.phone.shown import ALARM, FREE, QUIET, opened_station
from tests.phone.small_desk import SmallDesk, opened_with
from tests.phone.small_overview import ADDRESSES, overview


def test_every_page_leads_to_five_places_and_marks_the_present_one(station):
    client = station.client()
    for place, mark in (
        ("/", "/"),
        ("/curing", "/curing"),
        ("/log", "/log"),
        ("/work", "/work"),
        ("/time", "/station"),
    ):
        head = client.get(place).text.partition("<nav")[2].partition("</nav>")[0]
        assert re.findall(r'href="([^"]+)"', head) == ["/", "/curing", "/log", "/work", "/station"]
        assert re.findall(r'href="([^"]+)" aria-current', head) == [mark]


def test_the_weight_in_the_head_is_the_way_to_the_scale():
    with opened_with(SmallDesk()) as station:
        station.post(QUIET)
        assert '<a class="chipbody" href="/scale"' in station.client().get("/").text
    with opened_station() as station:
        station.post(QUIET)
        assert 'class="chipbody" href' not in station.client().get("/").text
        assert Mass.grams("159.3").text() in station.client().get("/").text


def test_only_parts_that_this_station_has_are_linked(station):
    page = station.client().get("/station").text
    assert 'href="/time"' in page
    assert 'href="/push"' not in page
    with opened_with(SmallDesk()) as other:
        assert '<li><a href="/scale">' in other.client().get("/station").text
    assert '<li><a href="/scale">' not in page


@pytest.fixture
def shop():
    parts = {
        "Scale": Part("Scale", Fare.WELL, "It is read.", "/time"),
        "Record": Part("Record", Fare.WRONG, "Row <7> is spoilt.", "/nowhere"),
        "Card": Part("Card", Fare.LOOK, "Little is free."),
        "Program": Part("Program", Fare.OFF, "Version 1."),
    }
    with overview(parts) as opened:
        yield opened


def test_the_worst_comes_first_in_the_head_and_in_the_list(shop):
    page = shop.station.client().get("/station").text
    assert "2 things need a look: Record, Card." in page
    rows = page.split('<ul class="parts">')[1].split("</ul>")[0].split("</li>")[:-1]
    assert [re.sub("<[^>]+>", "", row).split() for row in rows] == [
        ["Record", "wrong", "Row", "&lt;7&gt;", "is", "spoilt."],
        ["Card", "needs", "a", "look", "Little", "is", "free."],
        ["Scale", "well", "It", "is", "read."],
        ["Program", "not", "in", "use", "Version", "1."],
    ]
    assert all(row.count("<svg") == 1 for row in rows)
    assert [re.findall('href="([^"]+)"', row) for row in rows] == [[], [], ["/time"], []]


def test_when_all_is_well_that_is_said(shop):
    del shop.parts["Record"], shop.parts["Card"]
    assert "All is well." in shop.station.client().get("/station").text


def test_a_part_that_cannot_tell_is_one_to_look_at_and_one_that_is_not_there_is_left_out(shop):
    def broken():
        raise LedgerFault("The record cannot be read.")

    shop.parts |= {"Record": broken, "Card": lambda: None}
    page = shop.station.client().get("/station").text
    assert "1 thing needs a look: Record." in page
    assert "It does not tell how it fares. The record cannot be read." in page
    assert ">Card<" not in page


def test_addresses_are_shown_with_codes_and_not_too_many(shop):
    page = shop.station.client().get("/station").text
    assert re.findall(r'<a href="(http[^"]+)"', page) == [one.url for one in ADDRESSES[:MOST_ADDRESSES]]
    assert page.count('class="code2d"') == MOST_ADDRESSES
    main = page[page.index("<main") : page.index("</main>")]
    assert main.count("<details") == MOST_ADDRESSES - 2
    shop.addresses.clear()
    assert "answers on this computer only" in shop.station.client().get("/station").text


def test_the_buzzer_is_sounded_for_paired_devices_while_nothing_else_is_heard(shop):
    visitor = shop.station.paired()
    answer = visitor.send("/station/sound")
    assert answer.status_code == 303
    assert "Did you hear it?" in visitor.client.get(answer.headers["Location"]).text
    assert shop.sounded == 1
    for busy, said in ((QUIET, "A cast is in hand"), (replace(FREE, alarms=(ALARM,)), "An alarm sounds")):
        shop.station.post(busy)
        refused = visitor.send("/station/sound")
        assert refused.status_code == 409
        assert said in refused.text
    stranger = shop.station.client()
    assert stranger.post("/station/sound", headers={"Origin": "http://localhost"}).status_code == 403
    assert "Sound the buzzer" not in stranger.get("/station").text
    assert shop.sounded == 1


def test_the_file_for_helpers_is_for_paired_devices_and_tells_how_each_part_fares(shop):
    answer = shop.station.paired().send("/station/support")
    assert answer.headers["Content-Disposition"] == "attachment; filename=tarebell-support.zip"
    with zipfile.ZipFile(io.BytesIO(answer.data)) as zipped:
        assert "wrong  Record: Row <7> is spoilt." in zipped.read("health.txt").decode()
        assert "Wrenfield" not in "".join(zipped.read(name).decode() for name in zipped.namelist())
    refused = shop.station.client().post("/station/support", headers={"Origin": "http://localhost"})
    assert refused.status_code == 403
    assert shop.station.client().get("/station/support").status_code == 405


def test_a_station_without_a_desk_only_leads_on():
    with opened_station() as station:
        page = station.client().get("/station").text
        assert "All is well." not in page
        assert station.paired().send("/station/sound").status_code == 404
