"""Worksheets of time, from the sheet's words to what to count with."""

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.cure import cure_rate
from station.casting.kinetics import factor
from station.core.drive import cure_kinetics
from station.core.forecast import forecast
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


PLAIN = {"pot_life": "10 min", "chemistry": "urethane rubber", "demold": "4 h"}


@pytest.mark.parametrize("celsius", [18.5, 20.0, 23.0, 26.0, 30.0])
@pytest.mark.parametrize("material", sorted(MATERIALS))
def test_the_worksheet_counts_with_what_the_station_s_clocks_count_with(material, celsius):
    sheet = MATERIALS[material]
    found = answer("times-today", material, today=f"{celsius} °C")
    cast = forecast(sheet, sheet.times.pot_life_g or 1.0, celsius)
    assert found.figures["pot_life_counted_s"] == pytest.approx(cast.pot_life_s)
    assert found.figures["cure_rate_slow"] == pytest.approx(cure_rate(cure_kinetics(sheet), celsius))


def test_only_the_sheet_s_own_table_makes_a_limit_longer():
    cold = answer("times-today", today="18", reserve="2 min", **PLAIN)
    assert cold.figures["pot_life_shortest_s"] > 600
    assert cold.figures["pot_life_counted_s"] == 600
    assert cold.rows[0].rule.endswith("count with 10 min; only a row of the sheet's own table makes a limit longer")
    assert "count with 8 min" in cold.rows[1].rule
    told = answer("times-today", today="15", table="15 °C 20 min", **PLAIN)
    assert told.figures["pot_life_counted_s"] == pytest.approx(1200)
    beyond = answer("times-today", today="13", table="15 °C 20 min", **PLAIN)
    assert beyond.figures["pot_life_shortest_s"] > 1200
    assert beyond.figures["pot_life_counted_s"] == pytest.approx(1200)
    warm_row = answer("times-today", today="15", table="30 °C 6 min", **PLAIN)
    assert warm_row.figures["pot_life_shortest_s"] > 600
    assert warm_row.figures["pot_life_counted_s"] == 600


def test_the_pot_lives_table_drives_the_pot_life_and_the_demold_table_the_cure():
    found = answer("times-today", today="30", table="30 °C 6 min", demold_table="30 °C 1 h", **PLAIN)
    assert found.figures["pot_life_counted_s"] == pytest.approx(360)
    assert found.figures["demold_longest_s"] == pytest.approx(3600)
    plain = answer("times-today", today="30", table="30 °C 6 min", **PLAIN)
    assert plain.figures["demold_longest_s"] == pytest.approx(4 * 3600 / factor(20, 30, 23))


def test_the_rule_has_the_person_s_own_numbers():
    found = answer("times-today", today="29", reserve="2 min", activation="50", **PLAIN)
    assert found.rows[0].rule == "10 min at 23 °C ÷ 1.497, the rate at 29 °C; count with 6.68 min"
    assert found.rows[1].rule == "6.68 min − 2 min kept for pouring; count with 4.68 min"


def test_a_day_on_which_pouring_takes_the_whole_pot_life_is_warned_of():
    assert (
        "pouring alone may take the whole pot life"
        in answer("times-today", today="35", reserve="8 min", **PLAIN).warnings[0]
    )
    assert answer("times-today", today="23", reserve="8 min", **PLAIN).warnings == ()


def test_a_table_that_no_reaction_follows_is_warned_of():
    wrong = answer("times-today", today="26", table="30 °C 12 min", **PLAIN)
    assert "30 °C is longer than at 23 °C" in wrong.warnings[0]
    wrong = answer("pot-life-mass", mass="300", pot_life="5 min", table="100 g 5 min; 500 g 10 min")
    assert "500 g is longer than at 100 g" in " ".join(wrong.warnings)
    twice = answer("times-today", today="22", table="23 °C 9 min", **PLAIN)
    assert "Two pot lives are given for 23 °C" in twice.warnings[0]


def test_a_demold_that_cannot_be_predicted_is_said_and_the_pot_life_still_told():
    found = answer("times-today", today="30", table="30 °C 6 min", **PLAIN | {"chemistry": "other"})
    assert found.figures["pot_life_counted_s"] == pytest.approx(360)
    assert "demold_longest_s" not in found.figures
    assert found.warnings[0].startswith("Demold is not predicted.")


def test_a_spell_colder_than_the_sheet_counts_nothing_and_is_named():
    night = {"demold": "4 h", "coldest": "15", "activation": "50", "chemistry": "urethane rubber"}
    found = answer("age-by-log", log="2 h 23 °C; 8 h 9 °C", **night)
    assert found.figures["age_slow_s"] == pytest.approx(7200)
    assert found.figures["demold_in_s"] is None
    assert found.rows[1].value == "not while it is this cold"
    assert "15 °C nothing counts: 8 h at 9 °C" in found.warnings[0]
    after = answer("age-by-log", log="2 h 23 °C; 8 h 9 °C; 2 h 23 °C", **night)
    assert after.rows[1].value == "reached"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"table": "30 °C 0 min"}, "time above zero"),
        ({"table": "soon"}, 'Write it as "30 °C 12 min"'),
        ({"today": "-273.15"}, "no temperature to cast at"),
        ({"reference": "-300"}, "no temperature to cast at"),
        ({"activation": "1000000"}, "from 5 to 200 kJ/mol"),
        ({"coldest": "30", "warmest": "10"}, "is not below the warmest"),
        ({"coldest": "26", "warmest": "26"}, "is not below the warmest"),
        ({"pot_life": "0 s"}, "time above zero"),
        ({"demold": "-1 h"}, "time above zero"),
        ({"reserve": "12 min"}, "nothing to mix in"),
        ({"reserve": "-1 min"}, "nothing to mix in"),
        ({"demold": "", "demold_table": "30 °C 1 h"}, "Fill in that one too"),
    ],
)
def test_values_that_no_bench_has_are_refused_in_a_sentence(typed, said):
    with pytest.raises(NotFilledIn, match=said):
        answer("times-today", **PLAIN | {"today": "26"} | typed)


@given(st.floats(-40, 200), st.floats(0, 80), st.sampled_from(["", "30 °C 6 min"]), st.floats(5, 200))
def test_every_temperature_of_a_bench_is_answered_and_drawn(today, reference, table, energy):
    typed = {"today": f"{today:.2f}", "reference": f"{reference:.2f}", "activation": f"{energy:.1f}", "table": table}
    found = answer("times-today", **PLAIN | typed)
    figures = found.figures
    assert 0 < figures["pot_life_shortest_s"] <= figures["pot_life_longest_s"]
    ET.fromstring(svg(found.drawings[0], standalone=True))


def test_the_linear_rule_is_a_second_opinion_where_its_datum_is_known():
    # ASTM C1074 eq. (1), constructed: 12 h at 10, 12 h at 15, 24 h at 20 and 24 h at 25 °C above 0 °C are 1380 °C h.
    log = "12 h 10 °C; 12 h 15 °C; 24 h 20 °C; 24 h 25 °C"
    typed = {"log": log, "demold": "80 h", "reference": "20 °C", "chemistry": "urethane rubber"}
    found = answer("age-by-log", datum="0 °C", **typed)
    assert found.figures["linear_age_s"] / 3600 == pytest.approx(1380 / 20)
    assert "1380 °C h above 0 °C" in found.rows[-1].rule
    assert "linear_age_s" not in answer("age-by-log", **typed).figures
    with pytest.raises(NotFilledIn, match="not below"):
        answer("age-by-log", datum="20 °C", **typed)
