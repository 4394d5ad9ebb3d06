"""The worksheet of equivalents: guidance in the person's own numbers, with the formulas' published figures."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.worksheets.filling import worked
from station.worksheets.mixing.isocyanate import WORKSHEETS
from tests.play import FOAM
from tests.worksheets.mixing import assert_drawn, refusal, row

(EQUIVALENTS,) = WORKSHEETS
CAST = {"nco": "16.8", "oh": "112"}


def test_a_cast_system_is_told_with_its_equivalent_weights():
    answer = worked(EQUIVALENTS, CAST)
    # Constructed from the trade-association formulas, 4202 / %NCO and 56100 / OH number: 52.43 g at index 105.
    assert answer.figures["isocyanate_g"] == pytest.approx(52.43137, abs=1e-4)
    assert answer.figures["index"] == pytest.approx(105)
    assert row(answer, "Equivalent weight of the isocyanate").rule == "4202 ÷ 16.8 % NCO"
    assert row(answer, "2 % too much isocyanate").value == "index 107.1"
    assert row(answer, "2 % too much polyol").value == "index 102.9"
    assert "Guidance, no recipe" in answer.notes[0]
    assert_drawn(answer)


def test_water_lowers_the_index_and_makes_gas_unless_it_is_counted():
    # Constructed: 0.05 % in a polyol of 1000 g/eq takes index 105 to 99.4775, and 67 ml of gas per 100 g.
    wet = worked(EQUIVALENTS, {"nco": "16.8", "oh": "56.1", "water": "0.05"})
    assert wet.figures["index"] == pytest.approx(99.4775, abs=1e-3)
    assert wet.figures["gas_litres"] == pytest.approx(0.0674, abs=1e-4)
    counted = worked(EQUIVALENTS, {"nco": "16.8", "oh": "56.1", "water": "0.05", "count-water": "yes"})
    assert counted.figures["index"] == pytest.approx(105)
    assert counted.figures["isocyanate_g"] > wet.figures["isocyanate_g"]


def test_the_published_foam_example_with_its_slip_corrected():
    # Published worked example: 100 g polyester, OH 56, acid 0.5, 3 g water, index 105, TDI of 87 g/eq. It prints
    # 39.64 g by a slip (0.1554 × 56.5 = 8.780, not 8.749); consistent is 39.67 g. Its rounded steps, and its 9.0 g/eq
    # for water instead of 18.01528 ÷ 2, are 0.05 g together.
    typed = {"nco": f"{4202 / 87:.6f}", "oh": "56", "acid": "0.5", "water": "3 %", "count-water": "yes"}
    needed = worked(EQUIVALENTS, typed).figures["isocyanate_g"]
    assert needed == pytest.approx(1.05 * 87 * (100 * 56.5 / 56100 + 3 * 2 / 18.01528), abs=1e-3)
    assert needed == pytest.approx(39.67 - 0.05, abs=0.03)


def test_what_was_really_weighed_gives_its_own_index():
    answer = worked(EQUIVALENTS, CAST | {"isocyanate": "50 g", "error": "1 %"})
    assert answer.figures["index"] == pytest.approx(105 * 50 / 52.43137, abs=1e-3)
    assert row(answer, "Index that comes of it").rule.startswith("100 × 50 g ÷ 250.12 g/eq")
    assert row(answer, "1 % too much isocyanate").value == f"index {answer.figures['index'] * 1.01:.1f}"


def test_a_closed_can_that_got_wet_is_told_its_pressure():
    # Constructed, ideal gas: 0.1 g of water, 500 cm³ of room, 25 °C: 27.52 kPa.
    answer = worked(EQUIVALENTS, CAST | {"can-water": "0.1 g", "can-room": "500 ml", "can": "25 °C"})
    assert answer.figures["can_rise_kpa"] == pytest.approx(27.52, abs=0.005)
    assert any("bulging" in said for said in answer.cautions)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"nco": "0 %"}, "NCO is none"),
        ({"oh": "0"}, "OH number of 0"),
        ({"oh": ""}, "is empty"),
        ({"acid": "-1"}, "is none"),
        ({"index": "0"}, "index must be above zero"),
        ({"polyol": "0 g"}, "nothing to take the isocyanate"),
        ({"water": "30 %"}, "no trace"),
        ({"error": "-1 %"}, "weighing error"),
        ({"isocyanate": "-1 g"}, "below zero"),
        ({"can-water": "-1 g", "can-room": "1 l"}, "Water below zero"),
        ({"can-water": "1 g"}, "needs the water in it, the room"),
        ({"can-water": "1 g", "can-room": "0 ml"}, "room above the liquid"),
    ],
)
def test_numbers_that_no_sheet_has_are_refused_with_a_sentence(typed, said):
    assert said in refusal(EQUIVALENTS, CAST | typed)


def test_a_material_fills_in_the_numbers_of_its_certificate():
    a, b = FOAM.components
    known = replace(FOAM, components=(replace(a, oh_number=112), replace(b, nco_percent=16.8, isocyanate=True)))
    assert EQUIVALENTS.from_material is not None
    assert EQUIVALENTS.from_material(known) == {"nco": "16.8", "oh": "112"}
    assert EQUIVALENTS.from_material(FOAM) == {}


@given(
    nco=st.floats(1, 50), oh=st.floats(20, 2000), polyol=st.floats(1, 5000), index=st.floats(80, 130),
    water=st.floats(0, 5),
)  # fmt: skip
def test_counting_the_water_always_leads_back_to_the_index_and_it_can_be_drawn(nco, oh, polyol, index, water):
    typed = {
        "nco": f"{nco:.3f}",
        "oh": f"{oh:.2f}",
        "polyol": f"{polyol:.2f} g",
        "index": f"{index:.2f}",
        "water": f"{water:.3f}",
        "count-water": "yes",
    }
    answer = worked(EQUIVALENTS, typed)
    assert answer.figures["index"] == pytest.approx(float(f"{index:.2f}"))
    assert_drawn(answer)
