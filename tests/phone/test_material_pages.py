"""The page of the materials: what sheets say, and entering one without losing what was typed."""

from pathlib import Path

import pytest

from station.sheet_desk import SheetDesk
from tests.phone.shown import opened_station
from tests.typed_forms import FOAM, LOT_A


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
    assert "look at 1 field below" in answer.text


def test_a_slip_is_told_at_its_field_and_its_folded_group_is_open(shop):
    answer = shop.paired().send("/materials/new", **(FOAM | {"kit 2 title": "half", "kit 2 price": "dear"}))
    box = answer.text.split('name="kit 2 price"')[1].split("</div>")[0]
    assert 'aria-invalid="true" aria-describedby="kit-2-price-slip' in box
    assert 'id="kit-2-price-slip"' in box
    assert "Must be a price" in box
    assert answer.text.count("aria-invalid") == 2  # the other: what the kit holds
    assert '<details class="folded" open><summary>Kits' in answer.text
    assert '<details class="folded" ><summary>Kits' in shop.client().get("/materials/new").text


def test_a_sheet_entered_here_is_changed_here(shop):
    visitor = shop.paired()
    visitor.send("/materials/new", **FOAM)
    page = shop.client().get("/materials").text
    assert "/materials/test-foam/change" in page
    assert "/materials/example-foam/change" not in page
    form = shop.client().get("/materials/test-foam/change").text
    assert 'value="1,07 g/cm3"' in form
    assert '<details class="folded" open><summary>Additives' in form
    assert visitor.send("/materials/test-foam/change", **(FOAM | {"hardness": "33 Shore A"})).status_code == 303
    assert "33 Shore A" in shop.client().get("/materials").text
    told = visitor.send("/materials/test-foam/change", **(FOAM | {"key": "other"}))
    assert told.status_code == 409
    assert "It stays" in told.text


def test_a_sheet_of_a_file_is_not_changed_here(shop):
    assert shop.client().get("/materials/example-foam/change").status_code == 409
    assert shop.paired().send("/materials/example-foam/change", **FOAM).status_code == 409


def test_contradictions_come_first(shop):
    shop.paired().send("/materials/new", **(FOAM | {"component 1 isocyanate": ""}))
    page = shop.client().get("/materials").text
    assert "1 contradiction<" in page
    assert page.index("add isocyanate = true") < page.index("Addition-cure silicone")


def test_the_files_are_read_again_or_it_is_told_why_not(shop, tmp_path):
    visitor = shop.paired()
    visitor.send("/materials/new", **FOAM)
    assert visitor.send("/materials/reload").status_code == 303
    (tmp_path / "sheets" / "test-foam.toml").write_text("[[material")
    answer = visitor.send("/materials/reload")
    assert answer.status_code == 409
    assert "not TOML" in answer.text
    assert "Test foam (invented)" in answer.text


def test_a_container_is_offered_the_materials_there_are(shop):
    page = shop.client().get("/materials/lot?material=example-rubber").text
    assert '<option value="example-rubber" selected>' in page
    assert '<option value="pigment">' in page
    answer = shop.paired().send("/materials/lot", material="example-rubber", component="pigment", number="<1>")
    assert answer.status_code == 409
    assert "There is no such component in example-rubber" in answer.text
    assert "&lt;1&gt;" in answer.text


def test_each_field_is_explained(shop):
    page = shop.client().get("/materials/new").text
    assert "Mostly 23 °C, in small print." in page
    assert page.count("<fieldset") > 15


def test_an_unpaired_device_enters_nothing(shop):
    assert shop.client().post("/materials/new", data=FOAM).status_code == 403
    assert "Test foam" not in shop.client().get("/materials").text
