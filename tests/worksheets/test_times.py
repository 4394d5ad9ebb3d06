"""Worksheets of time, from the sheet's words to what to count with."""

import pytest

from station.casting.kinetics import factor
from station.drawing.svg import svg
from station.sheets import read_sheets
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.time.times import WORKSHEETS

SHEETS = {sheet.key: sheet for sheet in WORKSHEETS}
MATERIALS = {material.key: material for material in read_sheets(()).materials}


def answer(key, material=None, **typed):
    sheet = SHEETS[key]
    known = dict(sheet.from_material(MATERIALS[material])) if material else {}
    return worked(sheet, known | {name.replace("_", "-"): text for name, text in typed.items()})


def test_a_warm_day_by_the_sheet_s_own_energy():
    found = answer("times-today", "example-foam", today="29 °C")
    assert found.figures["pot_life_shortest_s"] == pytest.approx(50 / factor(50, 29, 23))
    assert found.figures["demold_longest_s"] == pytest.approx(1200 / factor(50, 29, 23))
    assert found.figures["window_shortest_s"] == pytest.approx(50 / factor(50, 29, 23) - 12)
    assert "33.4 s" in found.rows[0].value


def test_without_an_energy_a_range_is_shown_and_the_safe_side_counted():
    found = answer("times-today", "example-silicone", today="19 °C")
    assert " to " in found.rows[0].value
    assert found.figures["pot_life_shortest_s"] == pytest.approx(1800 / factor(40, 19, 23))
    assert found.figures["demold_longest_s"] == pytest.approx(4 * 3600 / factor(90, 19, 23))
    assert found.figures["demold_longest_s"] > found.figures["demold_shortest_s"]


def test_the_sheet_s_table_is_met():
    found = answer("times-today", "example-rubber", today="30 °C")
    assert found.figures["pot_life_shortest_s"] == pytest.approx(600)


def test_too_cold_is_refused_with_what_to_do():
    with pytest.raises(NotFilledIn, match=r"15 °C at least.*Bring the closed cans"):
        answer("times-today", "example-silicone", today="12 °C")
    with pytest.raises(NotFilledIn, match="chemistry is not told"):
        answer("times-today", today="30", pot_life="10 min", chemistry="other")


def test_the_pot_life_of_a_larger_batch():
    found = answer("pot-life-mass", "example-rubber", mass="1 kg")
    assert found.figures == {"pot_life_s": pytest.approx(510), "sure": True}
    said = answer("pot-life-mass", "example-silicone", mass="900 g")
    assert "valid for 100 g; yours is 900 g" in said.warnings[0]


def test_the_age_of_a_night():
    found = answer(
        "age-by-log", log="2 h 18 °C; 2 h 21 °C; 4 h 25 °C", demold="8 h", chemistry="urethane rubber", activation="50"
    )
    assert found.figures["age_slow_s"] / 3600 == pytest.approx(7.736969, abs=1e-5)  # constructed, as in test_cure
    assert found.figures["demold_in_s"] == pytest.approx((8 - 7.736969) * 3600 / factor(50, 25, 23), rel=1e-4)


@pytest.mark.parametrize("nonsense", ["warm", "2 h", "2 h 18 °C; x", "", "18 °C 2 h"])
def test_a_log_that_cannot_be_read_is_refused(nonsense):
    with pytest.raises(NotFilledIn):
        answer("age-by-log", log=nonsense, demold="8 h")


def test_every_plot_is_drawn_and_says_what_it_shows():
    drawn = [
        *answer("times-today", "example-foam", today="29 °C").drawings,
        *answer("pot-life-mass", "example-rubber", mass="700 g").drawings,
        *answer("age-by-log", "example-foam", log="1 h 20 °C").drawings,
    ]
    assert len(drawn) == 3
    assert "33.4 s" in drawn[0].spoken
    assert "700 g" in drawn[1].spoken
    assert all(svg(one).startswith("<svg") for one in drawn)
