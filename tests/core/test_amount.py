"""How much mix a cast takes, from a mass, a usual shot, or the volume of the cavity."""

from dataclasses import replace

import pytest

from station.casting.loss import Emptied
from station.core.amount import from_cavity, given
from station.core.mass import Mass
from station.core.material import FoamFacts, Kit, KitPart, Mold
from station.core.planning import planned
from station.core.standing import Standing
from station.errors import Refused
from station.sheets import read_sheets
from tests.play import PLACE

SHEETS = {sheet.key: sheet for sheet in read_sheets(()).materials}
FOAM, RUBBER = SHEETS["example-foam"], SHEETS["example-rubber"]
PAD = Mold("pad", "Pad", cavity_cm3=500.0, packing=1.2)
FRESH = Standing()


def test_a_foam_is_worked_out_from_its_cavity_and_never_multiplied():
    found = from_cavity(FOAM, PAD, 500, PLACE, FRESH)
    assert found.total.g == pytest.approx(500 * 0.096 * 1.2 / 0.97, abs=0.001)
    assert found.rule.startswith("59.4 g = 500 cm³ × 96 kg/m³ free rise × 1.2 packing factor ÷ (1 − 3.0/100)")
    assert any("Divide, never multiply" in note for note in found.notes)
    assert any("Packing factor 1.20" in note for note in found.notes)


def test_what_stays_in_this_bench_s_cups_is_learned():
    learned = Standing(losses=(Emptied(PLACE.cup.capacity.g, 5.0), Emptied(PLACE.cup.capacity.g, 7.0)))
    found = from_cavity(RUBBER, PAD, 100, PLACE, learned)
    assert found.total.g == pytest.approx(100 * 1.02 / 0.94, abs=0.001)
    assert "mean of 2 emptied cups" in found.rule


def test_the_middle_of_the_sheet_s_packing_is_taken_when_the_mold_says_none():
    found = from_cavity(FOAM, replace(PAD, packing=None), 500, PLACE, FRESH)
    assert "× 1.225 packing" in found.rule


def test_expansion_and_liquid_stand_in_for_the_free_rise_density():
    sheet = replace(FOAM, foam=FoamFacts(None, 12.0), density=1.08)
    assert from_cavity(sheet, PAD, 500, PLACE, FRESH).total.g == pytest.approx(500 * 1.08 / 12 * 1.2 / 0.97, abs=0.001)


@pytest.mark.parametrize(
    "sheet", [replace(RUBBER, density=None), replace(FOAM, foam=FoamFacts(None, 12.0), density=None)]
)
def test_without_a_density_nothing_follows_from_a_volume(sheet):
    with pytest.raises(Refused, match="gives no"):
        from_cavity(sheet, PAD, 500, PLACE, FRESH)


def test_a_typed_mass_is_held_against_the_cavity():
    short = given(FOAM, PAD, Mass.grams(40), "{total} as typed", place=PLACE, standing=FRESH)
    assert short.total == Mass.grams(40)
    assert any("hort shot" in note for note in short.warnings)
    tight = given(FOAM, PAD, Mass.grams(90), "{total} as typed", place=PLACE, standing=FRESH)
    assert any("Overpressure" in note for note in tight.warnings)
    little = given(RUBBER, PAD, Mass.grams(450), "{total} as typed", place=PLACE, standing=FRESH)
    assert "cannot be topped up" in little.warnings[0]
    assert given(RUBBER, PAD, Mass.grams(530), "{total} as typed", place=PLACE, standing=FRESH).warnings == ()


def test_the_plan_shows_how_its_amount_came_about():
    plain = replace(FOAM, additives=())  # its pigment is too little for this scale: another test
    plan = planned(plain, PAD, from_cavity(plain, PAD, 500, PLACE, FRESH), place=PLACE, standing=FRESH)
    assert plan.notes[0].startswith("59.4 g = 500 cm³")
    assert plan.total.g == pytest.approx(59.381, abs=0.001)


def costs(material, mold=PAD) -> list[str]:
    plan = planned(material, mold, Mass.grams(300), place=PLACE, standing=FRESH)
    return [note for note in plan.notes if note.startswith("Costs")]


def test_the_plan_tells_what_it_costs_by_the_kits_on_its_sheet():
    plain = replace(FOAM, additives=(), cling_percent=0.0)
    # 142.00 for 5 kg of A and 3 kg of B is 1.775 hundredths a gram at this ratio; a 64th of the mold's 64.00 on top.
    assert costs(plain, replace(PAD, price=6400, lasts=64)) == [
        f"Costs about {(300 * 1.775 + 100) / 100:.2f} with the share of the mold, by the kits on its sheet."
    ]
    assert costs(replace(FOAM, cling_percent=0.0))[0].endswith("by the kits on its sheet. That is without pigment.")
    assert costs(replace(plain, kits=())) == []


def test_separate_cans_are_each_paid_at_their_own_price():
    cans = (
        Kit("can of A", (KitPart("A", Mass.grams(1000)),), 1000),
        Kit("can of B", (KitPart("B", Mass.grams(1000)),), 9000),
    )
    plain = replace(FOAM, additives=(), cling_percent=0.0, kits=cans)
    assert costs(plain) == [f"Costs about {(300 * (100 * 1 + 60 * 9) / 160) / 100:.2f}, by the kits on its sheet."]
    assert costs(replace(plain, kits=cans[:1])) == []
