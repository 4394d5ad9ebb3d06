"""The water worksheets as a person fills them in: what they answer, what they say, what they refuse."""

import pytest

from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.room.water import WORKSHEETS

FILL, IMMERSE = WORKSHEETS
HUNG, IN_CUP = "hung under the scale", "held under in a cup on the scale"


def immersed(way, **typed):
    return worked(IMMERSE, {"way": way, "water": "23 °C", "readability": "0.01 g", **typed})


def test_a_cavity_is_told_with_its_spread_and_with_the_numbers_it_comes_from():
    # Constructed from Metrologia 38 (2001) and conventional mass: 438.2 g of water at 22 °C are 439.641 cm³.
    answer = worked(FILL, {"dry": "212.5 g", "full": "650.7 g", "water": "22 °C"})
    assert answer.figures["volume_cm3"] == pytest.approx(439.641, abs=0.002)
    assert answer.figures["water_g"] == pytest.approx(438.2)
    first = answer.rows[0]
    assert first.value == "439.6 ± 1.3 cm³"
    assert "438.2 g of water" in first.rule
    assert "22 °C" in first.rule
    assert "0.99777" in first.rule
    assert answer.rows[1].value == "26.83 in³, 14.87 US fl oz, 15.47 imp fl oz"
    assert answer.rows[2].rule == "650.7 g full − 212.5 g dry"


def test_the_spread_is_that_of_its_parts_largest_first():
    answer = worked(FILL, {"full": "438.2"})
    parts = [float(row[1].removesuffix(" cm³")) for row in answer.tables[0].rows]
    assert parts == sorted(parts, reverse=True)
    assert sum(part**2 for part in parts) ** 0.5 == pytest.approx(answer.figures["volume_u_cm3"], rel=0.02)
    assert answer.tables[0].rows[0][0] == "meniscus and trapped air"
    surer = worked(FILL, {"full": "438.2", "slack": "0.1 ml"})
    assert surer.figures["volume_expanded_cm3"] < answer.figures["volume_expanded_cm3"]


def test_drying_before_urethane_is_always_said():
    assert any("Dry the mold" in note and "isocyanate" in note for note in worked(FILL, {"full": "100 g"}).notes)


def test_what_can_be_read_off_the_pan_is_offered_from_the_pan():
    assert [field.key for field in FILL.fields if field.pan] == ["dry", "full"]
    assert [field.key for field in IMMERSE.fields if field.pan] == ["in-air", "in-water", "support"]
    assert all(field.hint for field in (*FILL.fields, *IMMERSE.fields) if field.pan)


def test_hung_or_in_a_cup_the_same_cast_has_the_same_volume_and_density():
    # ASTM D792 method A: 22.0 g in air, 2.1 g in water, specific gravity 1.105528.
    hung, held = (
        immersed(HUNG, **{"in-air": "22", "in-water": "2.1"}),
        immersed(IN_CUP, **{"in-air": "22", "in-water": "19.9"}),
    )
    for answer in (hung, held):
        assert answer.figures["specific_gravity"] == pytest.approx(1.105528, abs=1e-6)
        assert answer.figures["density_g_cm3"] == pytest.approx(1.10268, abs=1e-5)
        assert answer.figures["volume_cm3"] == pytest.approx(19.970, abs=0.001)
        assert not answer.warnings
    assert "22 g in air" in hung.rows[3].rule
    assert "19.9 g with it under water" in held.rows[3].rule


def test_open_cell_foam_is_warned_of_before_it_drinks():
    answer = immersed(IN_CUP, **{"in-air": "22", "in-water": "19.9"})
    assert any("Open-cell foam" in note and "dimensions" in note for note in answer.notes)


def test_what_floats_is_measured_with_a_rod_and_the_person_is_told_what_must_hold():
    answer = immersed(IN_CUP, **{"in-air": "12 g", "in-water": "101.5 g", "support": "1.5 g"})
    assert answer.figures["density_g_cm3"] == pytest.approx(0.12, abs=0.001)
    assert "under water" in answer.warnings[0]


def test_what_floats_on_a_thread_asks_for_a_sinker_and_takes_one():
    with pytest.raises(NotFilledIn, match=r"floats\. Hang a sinker"):
        immersed(HUNG, **{"in-air": "12 g", "in-water": "0 g"})
    answer = immersed(HUNG, **{"in-air": "12 g", "in-water": "200 g", "support": "288 g"})
    assert answer.figures["displaced_g"] == pytest.approx(100)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"full": "100 g", "dry": "200 g"}, "mass of the water"),
        ({"full": "100 g", "water": "60 °C"}, "outside 0 to 40 °C"),
        ({"full": "100 g", "readability": "0 g"}, "readability"),
        ({"full": "100 g", "water-within": "-1"}, "cannot be below zero"),
        ({"full": "1 g", "slack": "5 ml"}, "says nothing"),
        ({"full": "2 fl oz"}, "fluid ounce"),
        ({}, "Mold full of water"),
    ],
)
def test_what_makes_no_volume_is_a_sentence(typed, told):
    with pytest.raises(NotFilledIn, match=told):
        worked(FILL, typed)
