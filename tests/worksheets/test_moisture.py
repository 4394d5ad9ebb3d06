"""The worksheet of dew point and humidity: filled in as a person does, answered in their own numbers."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.drawing.svg import svg
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.time.moisture import WORKSHEETS

(MOISTURE,) = WORKSHEETS


def test_a_cold_mold_in_damp_air_is_said_to_be_wet_and_why() -> None:
    answer = worked(MOISTURE, {"air": "20 °C", "humidity": "60", "mold": "8 °C"})
    assert [(row.label, row.value) for row in answer.rows] == [("Dew point", "12.0 °C"), ("Mold", "wet")]
    assert answer.rows[1].rule == "8.0 °C is 4.0 °C below 12.0 °C; the air at it has 100 % humidity"
    assert "60 % of that is 14.0 hPa" in answer.rows[0].rule
    assert answer.figures["mold_wet"] is True
    # Dew point table of DIN 4108, from memory: 20 °C, 60 % → 12.0 °C.
    assert answer.figures["dew_point_c"] == pytest.approx(12.0, abs=0.1)
    assert len(answer.warnings) == 2  # the mold, and 60 % for the foam that is the first choice


def test_degrees_fahrenheit_are_taken_and_dry_surfaces_are_not_warned_about() -> None:
    typed = {"air": "68 °F", "humidity": "45 %", "mold": "68 °F", "material": "20", "chemistry": "urethane rubber"}
    answer = worked(MOISTURE, typed)
    assert [row.value for row in answer.rows] == ["7.7 °C", "dry", "dry"]
    assert answer.warnings == ()


def test_what_is_left_empty_is_asked_for_by_its_label() -> None:
    with pytest.raises(NotFilledIn) as wrong:
        worked(MOISTURE, {"humidity": "60"})
    assert [slip.key for slip in wrong.value.slips] == ["air"]


def test_air_of_more_than_a_hundred_percent_is_refused_in_a_sentence() -> None:
    with pytest.raises(NotFilledIn, match=r"120 % is no relative humidity of air\. Give one from 1 to 100 %\."):
        worked(MOISTURE, {"air": "20", "humidity": "120"})


@given(st.floats(-20, 60), st.floats(1, 100), st.none() | st.floats(-45, 60))
def test_every_answer_can_be_drawn(air: float, percent: float, mold: float | None) -> None:
    typed = {"air": f"{air:.2f}", "humidity": f"{percent:.1f}"} | ({} if mold is None else {"mold": f"{mold:.2f}"})
    answer = worked(MOISTURE, typed)
    ET.fromstring(svg(answer.drawings[0], standalone=True))
    assert answer.drawings[0].spoken.endswith(f"{answer.rows[0].value}.")
