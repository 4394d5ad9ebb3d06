"""The worksheets as pages: each opens, works out, tells its slips beside the fields, and changes nothing."""

import json
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from station.core.mass import Mass
from station.core.snapshot import ScaleState, ScaleView
from station.worksheets.catalogue import chapters, every
from station.worksheets.guides import GUIDES
from station.worksheets.kinds import Kind
from tests.phone.shown import FREE, LIVE, Station

KEYS = [sheet.key for sheet in every(chapters())]


def get(station: Station, path: str, **typed: str):
    return station.app.test_client().get(path, query_string={k.replace("_", "-"): v for k, v in typed.items()})


def test_keys_and_fields_have_names_of_their_own():
    assert len(set(KEYS)) == len(KEYS)
    for sheet in every(chapters()):
        keys = [field.key for field in sheet.fields]
        assert len(set(keys)) == len(keys)
        assert all(re.fullmatch(r"[a-z][a-z0-9-]*", key) for key in [sheet.key, *keys])
        assert not {"go", "pan", "json", "drawings", "sheets", "help"} & set(keys)
        assert sheet.purpose.endswith("?")


def test_every_worksheet_stands_on_the_page_of_all_and_opens(station):
    listed = get(station, "/work").text
    for key in KEYS:
        assert f'href="/work/{key}"' in listed
        page = get(station, f"/work/{key}")
        assert page.status_code == 200
        for field in next(s for s in every(chapters()) if s.key == key).fields:
            assert f'name="{field.key}"' in page.text


@pytest.mark.parametrize("key", KEYS)
def test_nonsense_in_every_field_is_told_and_nothing_else_happens(station, key):
    sheet = next(s for s in every(chapters()) if s.key == key)
    typed = {f.key: "<b>nonsense</b>" for f in sheet.fields if f.kind not in (Kind.CHOICE, Kind.YES)}
    page = get(station, f"/work/{key}", go="1", **typed)
    assert page.status_code == 409
    assert 'role="alert"' in page.text
    assert "<b>nonsense" not in page.text
    assert "nonsense" in page.text
    assert station.asked.commands == []


def test_an_answer_shows_each_number_with_its_rule_and_drawing(station):
    page = get(
        station, "/work/foam", go="1", cavity="500 ml", free_rise="80 kg/m3", packing="1.2", loss="5", ratio="2:1"
    )
    assert page.status_code == 200
    assert "50.5 g" in page.text
    assert "÷ (1 − 5/100)" in page.text
    assert "<svg" in page.text
    assert "Divide, never multiply" in page.text
    assert "Isocyanate" in page.text


def test_the_same_figures_as_json(station):
    found = get(
        station, "/work/foam.json", go="1", cavity="500 ml", free_rise="80", packing="1.2", loss="5", ratio="2:1"
    )
    assert found.json["mixed_g"] == pytest.approx(50.526316, abs=1e-5)
    refused = get(station, "/work/foam.json", go="1", cavity="much")
    assert refused.status_code == 409
    assert refused.json["refused"][0]["field"] == "cavity"


def test_a_drawing_is_served_as_a_file_that_may_carry_its_own_style_and_nothing_else(station):
    typed = {"go": "1", "cavity": "500 ml", "free-rise": "80", "ratio": "2:1"}
    file = station.app.test_client().get("/work/foam/1.svg", query_string=typed)
    assert file.mimetype == "image/svg+xml"
    assert "default-src 'none'" in file.headers["Content-Security-Policy"]
    assert ET.fromstring(file.text).tag.endswith("svg")
    assert station.app.test_client().get("/work/foam/9.svg", query_string=typed).status_code == 404


def test_an_unknown_worksheet_is_no_page(station):
    assert get(station, "/work/nothing").status_code == 404
    assert get(station, "/work/nothing.json").status_code == 404


def test_a_mass_is_taken_from_the_pan_at_rest_and_nothing_else_is_lost(station):
    still = ScaleView(ScaleState.LIVE, Mass.grams("812.4"), 0.1, True, "", Mass.grams("0.1"), 900)
    station.post(replace(FREE, seq=2, scale=still))
    page = get(station, "/work/fill-with-water", pan="full", dry="240 g")
    assert 'value="812.4 g"' in page.text
    assert 'value="240 g"' in page.text


@pytest.mark.parametrize(
    ("scale", "says"), [(LIVE, "still moving"), (replace(LIVE, state=ScaleState.LOST, gross=None), "no reading")]
)
def test_a_pan_that_tells_nothing_says_so(station, scale, says):
    station.post(replace(FREE, seq=2, scale=scale))
    page = get(station, "/work/fill-with-water", pan="full", dry="240 g")
    assert says in page.text
    assert 'value="240 g"' in page.text


def test_a_material_fills_in_what_its_sheet_says(station):
    key = station.shelf.materials()[0].key
    page = get(station, "/work/times-today", go="sheet", material=key)
    assert 'value="4 min"' in page.text
    assert page.status_code == 200


def test_figures_are_plain_json_for_every_answer_a_default_gives(station):
    for key in KEYS:
        found = get(station, f"/work/{key}.json", go="1")
        assert found.status_code in (200, 409)
        json.dumps(found.json, allow_nan=False)


def test_the_worked_plans_open_and_lead_to_their_worksheets(station):
    listed = get(station, "/work").text
    for one in GUIDES:
        assert f'href="/work/guides/{one.key}"' in listed
        page = get(station, f"/work/guides/{one.key}")
        assert page.status_code == 200
        assert "invented" in page.text
        for step in one.steps:
            answer = station.app.test_client().get(step.address)
            assert answer.status_code == 200
            assert 'aria-label="Answer"' in answer.text
    assert get(station, "/work/guides/nothing").status_code == 404
