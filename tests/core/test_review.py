"""A material sheet that contradicts itself is told so, with the numbers; what is not known is told as well."""

from dataclasses import replace
from pathlib import Path

import pytest

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import FoamFacts, Kit, KitPart, PotLifeOf, TimesAt
from station.core.review import review
from station.sheets import example_folder, read_sheets

SHEETS = {sheet.key: sheet for sheet in read_sheets([Path(example_folder())]).materials}
FOAM, RUBBER, SILICONE = SHEETS["example-foam"], SHEETS["example-rubber"], SHEETS["example-silicone"]


def with_times(sheet, **changed):
    return replace(sheet, times=replace(sheet.times, **changed))


def with_component(sheet, place, **changed):
    parts = list(sheet.components)
    parts[place] = replace(parts[place], **changed)
    return replace(sheet, components=tuple(parts))


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=list(SHEETS))
def test_the_examples_contradict_nothing(sheet):
    assert review(sheet).contradictions == ()


WRONG = {
    "the ratio by weight is not the one by volume": (with_component(RUBBER, 1, other_parts=60.0), "60"),
    "one component alone has parts of the other basis": (
        with_component(RUBBER, 1, other_parts=None),
        "all, or for none",
    ),
    "expansion and free rise disagree": (replace(FOAM, foam=FoamFacts(0.096, 20.0)), "54 kg/m³"),
    "warmth makes the pot life longer": (with_times(RUBBER, at=(TimesAt(30.0, 1200.0),)), "30 °C"),
    "cold makes demold shorter": (with_times(RUBBER, at=(TimesAt(18.0, None, 3600.0),)), "23 °C"),
    "an activation energy of no such system": (with_times(FOAM, activation_kj=180.0), "180"),
    "times beyond the limits of use": (with_times(RUBBER, at=(TimesAt(50.0, 60.0),)), "50 °C"),
    "more mass lives longer": (
        with_times(RUBBER, pot_life_by_mass=(PotLifeOf(100, 600), PotLifeOf(500, 900))),
        "500 g",
    ),
    "no side is marked as the isocyanate": (with_component(FOAM, 0, isocyanate=False), "isocyanate = true"),
    "a silicone with an isocyanate": (with_component(SILICONE, 0, isocyanate=True), "no isocyanate"),
    "one side with both numbers": (with_component(FOAM, 0, nco_percent=30.0, oh_number=56.0), "both NCO and OH"),
    "a silicone that foams": (replace(SILICONE, foam=FoamFacts(0.1)), "chemistry is addition-cure silicone"),
    "the density of the foam instead of its liquid": (replace(FOAM, density=0.31), "0.31 g/cm³"),
    "a kit of another ratio": (
        replace(SILICONE, kits=(Kit("odd", (KitPart("A", Mass.grams(1000)), KitPart("B", Mass.grams(200))), 100),)),
        "100 g of B",
    ),
}


@pytest.mark.parametrize(("sheet", "says"), WRONG.values(), ids=list(WRONG))
def test_a_contradiction_is_told_with_its_numbers(sheet, says):
    found = review(sheet).contradictions
    assert len(found) == 1, found
    assert says in found[0]


def test_what_is_not_known_is_told_with_what_it_would_give():
    bare = replace(
        with_times(FOAM, activation_kj=None, pot_life_g=None, coldest_c=None, full_cure_s=None),
        chemistry=Chemistry.OTHER,
        density=None,
        kits=(),
    )
    told = " ".join(review(bare).unknown)
    for key in ("chemistry", "density", "pot_life_for", "coldest", "full_cure", "kit"):
        assert f"{key}" in told
    assert "foam: without free rise" in " ".join(review(replace(FOAM, foam=None)).unknown)
    assert "keeps_opened of A" in " ".join(review(with_component(FOAM, 0, opened_life_d=None)).unknown)
