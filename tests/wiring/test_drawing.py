"""The wiring drawing: any pins give a legible one in which no two wires meet, and it says what the table says."""

from __future__ import annotations

from dataclasses import replace
from gettext import GNUTranslations
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.config import ClimateSettings, SignalSettings
from station.drawing.svg import svg
from station.errors import Refused
from station.settings import PINS, read_settings
from station.wiring.drawing import drawn, laid_out
from station.wiring.header import HEADER
from station.wiring.plan import Plan, planned
from station.wiring.routing import PIN_R
from station.wiring.table import rows
from tests.wiring import sheet
from tests.words.speaking import spoken

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "station" / "examples" / "station.toml"
NO_SENSOR = ClimateSettings("none")


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Any choice of parts, each on a pin of its own."""
    gpios = draw(st.permutations(range(28)))
    fitted = draw(st.lists(st.booleans(), min_size=len(PINS), max_size=len(PINS)))
    pins = {name: gpio if wanted else None for name, gpio, wanted in zip(PINS, gpios, fitted, strict=False)}
    return planned(SignalSettings(**pins), draw(st.sampled_from([ClimateSettings(), NO_SENSOR])))


def example() -> Plan:
    settings = read_settings(EXAMPLE)
    return planned(settings.signals, settings.climate)


@given(plans())
def test_any_pins_give_a_drawing_in_which_no_label_lies_on_another_or_on_a_pin_or_outside(plan):
    drawing = drawn(plan)
    assert sheet.overlaps(drawing) == []
    assert sheet.on_pins(drawing, PIN_R) == []
    assert sheet.outside(drawing) == []


@given(plans())
def test_no_two_wires_meet_and_none_runs_through_a_label(plan):
    runs = laid_out(plan)
    assert sheet.crossings(runs) == []
    assert sheet.struck(drawn(plan), runs) == []


@given(plans())
def test_no_pin_holds_two_wires_and_each_wire_ends_at_its_own_height(plan):
    pins = [wire.pin.number for wire in plan.wires]
    assert len(set(pins)) == len(pins)
    heights = [run.points[-1] for run in laid_out(plan)]
    assert len(set(heights)) == len(heights)


@given(plans())
def test_the_drawing_says_what_the_table_says_and_nothing_else(plan):
    said = sheet.texts(drawn(plan))
    ends = [text for text in said if text.startswith("pin ")]
    table = rows(plan)
    assert sorted(ends) == sorted(f"pin {number}, {carries}" for number, carries, _ in table)
    assert all(to in said for _, _, to in table)
    drawn_pins = {run.wire.pin.number for run in laid_out(plan)}
    assert drawn_pins == {int(number) for number, _, _ in table}


def test_the_checks_of_these_tests_bite():
    plan = example()
    runs = laid_out(plan)
    bent = replace(runs[0], points=(*runs[0].points[:2], (runs[0].points[1][0], runs[-1].points[-1][1])))
    assert sheet.crossings((bent, *runs[1:]))
    drawing = drawn(plan)
    doubled = replace(drawing, marks=(*drawing.marks, replace(sheet.labels(drawing)[0], x=44)))
    assert sheet.overlaps(doubled)
    moved = replace(drawing, marks=(*drawing.marks, replace(sheet.labels(drawing)[0], x=1160)))
    assert sheet.outside(moved)


def test_another_pin_in_the_settings_gives_another_drawing():
    settings = SignalSettings()
    one, other = (svg(drawn(planned(each, NO_SENSOR))) for each in (settings, replace(settings, pedal=26)))
    assert one != other
    assert "pin 13, GPIO 27" in one
    assert "pin 37, GPIO 26" in other


def test_the_drawing_in_the_tree_is_that_of_the_example_settings():
    kept = (ROOT / "hardware" / "wiring.svg").read_text("utf-8")
    assert kept == svg(drawn(example()), standalone=True) + "\n", "write it again: tarebell wiring --drawing"


def test_it_is_a_sheet_of_a4_lying_with_all_forty_pins():
    drawing = drawn(example())
    assert drawing.mm_per_unit is not None
    assert (drawing.width * drawing.mm_per_unit, drawing.height * drawing.mm_per_unit) == (297, 210)
    assert [text for text in sheet.texts(drawing) if text.isdigit()] == [str(pin.number) for pin in HEADER]


def test_in_german_it_is_as_legible():
    catalogue = files("station") / "locale" / "de" / "station.mo"
    with catalogue.open("rb") as opened, spoken(GNUTranslations(opened), "de"):
        plan = planned(SignalSettings(tone=12), ClimateSettings())
        drawing = drawn(plan)
        assert "Lampe" in svg(drawing)
        assert sheet.overlaps(drawing) == []
        assert sheet.outside(drawing) == []
        assert sheet.struck(drawing, laid_out(plan)) == []


def test_two_parts_on_one_pin_are_not_drawn():
    with pytest.raises(Refused, match="GPIO 4 is given to more than one part: pedal, temperature sensor"):
        drawn(planned(SignalSettings(pedal=4), ClimateSettings("28-0316a2795cff")))


def test_settings_without_any_part_give_a_header_and_nothing_more():
    bare = planned(SignalSettings(None, None, None, None, None, None, None), NO_SENSOR)
    assert bare.wires == ()
    assert len(sheet.texts(drawn(bare))) == 4 + 2 * len(HEADER)
