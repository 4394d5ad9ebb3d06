"""The page of the materials: what sheets say, and entering one without losing what was typed."""

from pathlib import Path

import pytest

from station.sheet_desk import SheetDesk
from tests.phone.shown import opened_station
from tests.test_sheet_desk import FOAM, LOT_A


@pytest.fixture
def shop(tmp_path: Path):
    with opened_station(sheets=SheetDesk((), tmp_path)) as station:
        yield station


def test_every_sheet_shows_what_it_says_and_what_it_does_not(shop):
    page = shop.client().get("/materials").text
    assert "Flexible urethane foam 100:60" in page
    assert "96 kg/m³" in page
    assert "Not said on this sheet" in page


def test_a_material_is_entered_and_shown(shop):
    visitor = shop.paired()
    assert visitor.send("/materials/new", **FOAM).status_code == 303
    assert "Test foam (invented)" in shop.client().get("/materials").text
    assert visitor.send("/materials/lot", **LOT_A).status_code == 303


def test_what_was_typed_stays_when_something_is_wrong(shop):
    answer = shop.paired().send("/materials/new", **(FOAM | {"times pot_life": "<soon>"}))
    assert answer.status_code == 409
    assert "&lt;soon&gt;" in answer.text
    assert 'value="62,5"' in answer.text
    assert 'value="yes" checked' in answer.text
    assert "the form" in answer.text


def test_each_field_is_explained(shop):
    page = shop.client().get("/materials/new").text
    assert "Mostly 23 °C, in small print." in page
    assert page.count("<fieldset") > 15


def test_an_unpaired_device_enters_nothing(shop):
    assert shop.client().post("/materials/new", data=FOAM).status_code == 403
    assert "Test foam" not in shop.client().get("/materials").text
