"""What else a data sheet says arrives: chemistry, temperatures, foam, kits, containers; and what is to be reviewed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import (
    Component,
    FoamFacts,
    Kit,
    KitPart,
    PotLifeOf,
    Times,
    TimesAt,
)
from station.core.review import review
from station.reading import Problem
from station.sheets import materials_to_review
from tests.sheet_texts import FULL, LOT, MATERIAL, MOLD, Read, reading, refused


@pytest.fixture
def read(tmp_path: Path) -> Read:
    return reading(tmp_path)


def test_all_that_a_data_sheet_says_arrives(read: Read) -> None:
    (foam,) = read(all=FULL).materials
    assert foam.components == (
        Component("A", 100.0, None, 90.0, isocyanate=True, nco_percent=16.8, opened_life_d=90.0),
        Component("B", 60.0, 1.02, oh_number=356.0),
    )
    assert foam.times == Times(
        pot_life_s=50.0,
        mix_s=15.0,
        pour_reserve_s=12.0,
        demold_s=1200.0,
        full_cure_s=86_400.0,
        reference_c=23.0,
        pot_life_g=100.0,
        pot_life_by_mass=(PotLifeOf(500.0, 40.0), PotLifeOf(1000.0, 35.0)),
        coldest_c=18.0,
        warmest_c=30.0,
        activation_kj=50.0,
        at=(TimesAt(18.0, 65.0), TimesAt(30.0, 35.0, 840.0)),
    )
    assert foam.chemistry is Chemistry.URETHANE_FOAM
    assert (foam.density, foam.hardness, foam.shrinkage_percent) == (1.08, "20 Shore A", 0.3)
    assert foam.foam == FoamFacts(0.096, 11.0, 1.05, 1.4)
    assert foam.kits == (Kit("small pair", (KitPart("A", Mass(1_000_000)), KitPart("B", Mass(600_000))), 3250),)


def test_all_that_a_mold_and_a_lot_say_arrives(read: Read) -> None:
    found = read(
        a=MATERIAL + MOLD + 'cavity = "0.5 l"\npacking = 1.2\nprice = "64"\nlasts = 60\n',
        b=LOT + 'material = "foam"\nempty = "240 g"\nopened = 2026-03-14\nbest_before = "2027-01-31"\n',
    )
    (cavity,), (can,) = found.molds, found.lots
    assert (cavity.cavity_cm3, cavity.packing, cavity.price, cavity.lasts) == (500.0, 1.2, 6400, 60)
    assert (can.material, can.empty) == ("foam", Mass(240_000))
    assert (can.opened, can.best_before) == (date(2026, 3, 14), date(2027, 1, 31))


def test_a_lot_may_be_told_by_its_gross_and_its_empty_container(read: Read) -> None:
    (can,) = read(a=MATERIAL, b=LOT.replace('left = "2 kg"', 'gross = "1.44 kg"\nempty = "240 g"')).lots
    assert (can.left, can.empty) == (Mass(1_200_000), Mass(240_000))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"urethane foam"', '"foam"', "chemistry = 'foam': must be one of 'addition-cure silicone'"),
        ('"16.8 %"', '"0.5 %"', "nco = '0.5 %': must lie between 1 and 60 %."),
        ("oh = 356", 'oh = "356"', "oh = '356': must be a number above zero."),
        ('"90 d"', '"90"', "keeps_opened = '90': '90' is not a time with its unit"),
        ('"50 kJ/mol"', '"50"', "activation = '50': must be an energy from 5 to 200 kJ/mol"),
        ('"50 kJ/mol"', '"x kJ/mol"', "must be an energy from 5 to 200 kJ/mol"),
        ('"86 °F"', '"20 °C"', "reference (23 °C) must lie between coldest and warmest (18 and 20 °C)."),
        ('temperature = "18 °C", pot_life = "65 s"', 'temperature = "18 °C"', "[[at]] number 2: says neither"),
        ('mass = "500 g", ', "", "[[of]] number 2: mass is missing."),
        ('free_rise = "96 kg/m3"\nexpansion = 11\n', "", "[foam]: needs free_rise or expansion."),
        ('"96 kg/m3"', '"96 g/cm3"', "free_rise = '96 g/cm3': must lie between"),
        ("packing_low = 1.05", "packing_low = 1.5", "packing_low (1.5) must not be above packing_high (1.4)."),
        ('"32.50"', "32.5", "price = 32.5: must be a price in quotes"),
        ('"32.50"', '"32.505"', "must be a price such as 32.50"),
        ('component = "B", mass = "600 g"', 'component = "C", mass = "600 g"', "component = 'C': must be one of"),
        ("part = [", "parts = [", "[[kit]] number 1: needs at least one [[part]]"),
    ],
)
def test_one_slip_in_what_may_be_left_out_is_told_with_its_place(read: Read, old: str, new: str, told: str) -> None:
    assert old in FULL
    problems = refused(read, a=FULL.replace(old, new, 1))
    assert any(told in problem for problem in problems), problems


def test_a_problem_knows_its_table_and_key(read: Read) -> None:
    (problem,) = refused(read, a=FULL.replace('mass = "600 g"', 'mass = "some"'))
    assert isinstance(problem, Problem)
    assert problem.path == (("material", 1), ("kit", 1), ("part", 2))
    assert problem.key == "mass"
    assert problem == f"{problem.where}: {problem.said}"


def test_a_lot_that_may_be_of_two_materials_must_say_of_which(read: Read) -> None:
    other = MATERIAL.replace('"foam"', '"rubber"').replace('"Seat foam"', '"Rubber"')
    (problem,) = refused(read, a=MATERIAL, b=other, c=LOT)
    assert "material is missing: 'A' may be of foam, rubber; say which." in problem
    (can,) = read(a=MATERIAL, b=other, c=LOT + 'material = "rubber"\n').lots
    assert can.material == "rubber"


def test_what_no_cast_can_be_run_on_is_still_there_to_be_reviewed(read: Read, tmp_path: Path) -> None:
    place = tmp_path / "a.toml"
    place.write_text(
        FULL.replace('demold = "20 min"', 'demold = "20 s"').replace("packing_low = 1.05", "packing_low = 2")
    )
    (foam,), problems = materials_to_review(place)
    assert problems == ()
    told = " ".join(review(foam).contradictions)
    assert "Demold (20 s) must be longer than pot_life (50 s)" in told
    assert "packing_low (2) must not be above packing_high (1.4)" in told


def test_what_cannot_be_read_is_not_reviewed_and_that_is_said(read: Read, tmp_path: Path) -> None:
    place = tmp_path / "a.toml"
    place.write_text(FULL.replace('"50 s"', '"soon"') + "[[materail]]\n")
    found, problems = materials_to_review(place)
    assert found == ()
    assert "pot_life = 'soon'" in problems[0]
    assert "not reviewed further" in problems[1]
    assert "did you mean 'material'?" in problems[2]
