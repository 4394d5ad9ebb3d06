"""The worksheets of foam: the shot for a cavity in the person's own numbers, and what weighed parts teach."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.material import FoamFacts
from station.worksheets.filling import worked
from station.worksheets.mixing.foam import WORKSHEETS
from tests.play import FOAM
from tests.worksheets.mixing import assert_drawn, by_key, refusal, row

SHOT, PARTS = by_key(WORKSHEETS, "foam"), by_key(WORKSHEETS, "foam-parts")
# Constructed: 500 cm³ × 80 kg/m³ × 1.2 = 48 g, ÷ 0.95 = 50.53 g, at 2 : 1 33.68 and 16.84 g.
PAD = {"cavity": "500 ml", "free-rise": "80", "packing": "1.2", "loss": "5 %", "ratio": "2:1"}


def test_a_shot_is_told_with_every_step_in_the_persons_own_numbers():
    answer = worked(SHOT, PAD)
    assert answer.figures["mixed_g"] == pytest.approx(50.526316, abs=1e-6)
    assert answer.figures["masses_g"] == pytest.approx({"A": 33.684211, "B": 16.842105}, abs=1e-6)
    assert row(answer, "Mix in all").rule == "48.0 g in the mold ÷ (1 − 5/100) for cup and tools"
    assert row(answer, "In the mold").rule == "500 cm³ × 0.096 g/cm³ molded density"
    assert row(answer, "Left alone it would rise to").value == "600 cm³"
    assert answer.warnings == ()
    assert_drawn(answer)


def test_a_six_pound_foam_is_taken_as_pounds_per_cubic_foot():
    # NIST SP 811: 6 lb/ft³ = 96.11078 kg/m³.
    answer = worked(SHOT, PAD | {"free-rise": "6 lb/ft3"})
    assert answer.figures["free_rise_g_cm3"] == pytest.approx(0.09611078, abs=1e-7)


def test_an_expansion_divides_and_the_page_says_what_multiplying_would_have_done():
    typed = {"cavity": "1 l", "expansion": "8", "liquid": "1.1", "packing": "1", "loss": "0", "ratio": "1:1"}
    answer = worked(SHOT, typed)
    assert answer.figures["mixed_g"] == pytest.approx(137.5)
    assert answer.notes[0].startswith("Divide, never multiply: 1000 cm³ ÷ 8 = 125 cm³ of liquid, 137.5 g")
    assert "8.8 kg, 64 times too much" in answer.notes[0]


def test_a_molded_density_alone_is_enough_and_counts_before_the_packing_factor():
    alone = worked(SHOT, {"cavity": "500 ml", "molded": "96", "ratio": "2:1"})
    assert alone.figures["mixed_g"] == pytest.approx(50.526316, abs=1e-6)
    assert alone.figures["packing"] is None
    assert_drawn(alone)
    both = worked(SHOT, PAD | {"molded": "100", "packing": "3"})
    assert both.figures["packing"] == pytest.approx(1.25)
    assert both.figures["part_g"] == pytest.approx(50)


def test_short_shots_overpressure_and_a_cup_too_small_are_warned_about():
    assert "Short shot" in worked(SHOT, PAD | {"packing": "0.9"}).warnings[0]
    assert "your own casts" in worked(SHOT, PAD | {"minimum-fill": "49 g"}).warnings[0]
    assert "Overpressure" in worked(SHOT, PAD | {"packing": "1.5"}).warnings[0]
    assert worked(SHOT, PAD | {"packing": "1.5", "sort": "rigid, poured in place"}).warnings == ()
    assert "its sheet's range" in worked(SHOT, PAD | {"packing-high": "1.1"}).warnings[0]
    full = worked(SHOT, PAD | {"cup": "60 ml"})
    assert "48 cm³ of liquid fill a cup of 60 cm³" in full.warnings[0]
    assert "the cup holds 60 cm³" in full.drawings[0].spoken


def test_overpack_is_told_apart_from_the_packing_factor():
    # Rigid-foam molding patent text: 69 g injected where 60 g just fill is 115 %, at a packing factor of 1.44.
    typed = {"cavity": "500", "free-rise": "95.8333", "packing": "1.44", "loss": "0", "ratio": "1:1"}
    answer = worked(SHOT, typed | {"minimum-fill": "60 g", "sort": "rigid, poured in place"})
    assert row(answer, "Overpack").value == "115 %"
    assert row(answer, "Packing factor").value == "1.44"
    assert answer.warnings == ()


def test_every_shot_carries_its_cautions():
    said = " ".join(worked(SHOT, PAD).cautions)
    assert all(word in said for word in ("Isocyanate", "vents", "clamped", "pressure", "hot"))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"free-rise": ""}, "Neither a free-rise nor a molded density"),
        ({"free-rise": "", "expansion": "8"}, "Type the density of the liquid"),
        ({"expansion": "8", "liquid": "1.1"}, "cannot both be right"),
        ({"free-rise": "", "expansion": "0.5", "liquid": "1.1"}, "would shrink"),
        ({"free-rise": "0"}, "above zero"),
        ({"cavity": "0 ml"}, "above zero"),
        ({"packing": "0"}, "above zero"),
        ({"loss": "95"}, "leaves no part"),
        ({"ratio": "2"}, "not a mix ratio"),
        ({"ratio": ""}, "is empty"),
        ({"minimum-fill": "0 g"}, "above zero"),
        ({"liquid": "0"}, "above zero"),
    ],
)
def test_what_does_not_go_together_is_refused_with_a_sentence(typed, said):
    assert said in refusal(SHOT, PAD | typed)


def test_a_material_fills_in_what_its_sheet_says_of_its_rise():
    facts = FoamFacts(free_rise_density=0.096, packing_low=1.1, packing_high=1.4)
    assert SHOT.from_material is not None
    typed = SHOT.from_material(replace(FOAM, foam=facts, density=1.08))
    assert typed == {
        "ratio": "100:60",
        "liquid": "1.08 g/cm3",
        "free-rise": "96 kg/m3",
        "packing-low": "1.1",
        "packing-high": "1.4",
    }
    assert worked(SHOT, {**typed, "cavity": "500 ml"}).figures["part_g"] == pytest.approx(500 * 0.096 * 1.15)


def test_weighed_parts_teach_loss_density_and_the_least_fill_with_count_and_spread():
    answer = worked(PARTS, {"cavity": "800 ml", "parts": "100 g, 95 g\n100, 93; 90 g, 84 g, short"})
    assert answer.figures["count"] == 3
    assert answer.figures["loss_percent"] == pytest.approx((5 + 7 + 600 / 90) / 3)
    assert answer.figures["minimum_fill_g"] == pytest.approx(93)
    assert row(answer, "Loss in cup and tools").value == "6.2 % ± 1.1 %"
    assert answer.tables[0].rows[2][-1] == "short"
    assert list(answer.onward) == ["/work/foam?cavity=800&loss=6.2&minimum-fill=93.0"]


def test_parts_that_never_filled_teach_no_fill_and_say_so():
    answer = worked(PARTS, {"cavity": "800", "parts": "64,7 g, 60,9 g, short"})
    assert answer.figures["minimum_fill_g"] is None
    assert answer.figures["loss_spread_percent"] is None
    assert "None of these parts was full" in answer.warnings[0]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"parts": "100 g"}, "is not a cast"),
        ({"parts": "100, 90, maybe"}, "is not a cast"),
        ({"parts": "100, 110"}, "cannot outweigh"),
        ({"parts": "100, ninety"}, "'ninety' is not a mass"),
        ({"parts": ""}, "is empty"),
        ({"cavity": "0"}, "The volume of the cavity must be above zero"),
    ],
)
def test_casts_that_cannot_be_are_refused_with_a_sentence(typed, said):
    assert said in refusal(PARTS, {"cavity": "800", "parts": "100, 95"} | typed)


@given(
    st.floats(5, 50_000), st.floats(20, 600), st.floats(0.8, 4), st.floats(0, 30), st.none() | st.floats(10, 3000)
)  # fmt: skip
def test_every_shot_balances_and_can_be_drawn(cavity, free_rise, packing, loss, cup):
    typed = PAD | {
        "cavity": f"{cavity:.1f}",
        "free-rise": f"{free_rise:.1f}",
        "packing": f"{packing:.2f}",
        "loss": f"{loss:.1f}",
    }
    answer = worked(SHOT, typed if cup is None else typed | {"cup": f"{cup:.0f}"})
    figures = answer.figures
    assert sum(figures["masses_g"].values()) == pytest.approx(figures["mixed_g"])
    assert figures["mixed_g"] >= figures["part_g"] - 1e-9
    assert figures["part_g"] / figures["molded_g_cm3"] == pytest.approx(float(f"{cavity:.1f}"))
    assert any("Short shot" in said for said in answer.warnings) == (float(f"{packing:.2f}") < 1)
    assert_drawn(answer)
