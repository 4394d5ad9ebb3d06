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
        with_times(RUBBER, pot_life_by_mass=(PotLifeOf(100, 900), PotLifeOf(500, 1200))),
        "500 g (20 min)",
    ),
    "the pot life of its mass is not the one of the table": (
        with_times(RUBBER, pot_life_by_mass=(PotLifeOf(100, 600), PotLifeOf(500, 500))),
        "100 g is given twice, as 10 min and as 15 min",
    ),
    "one temperature has two pot lives": (with_times(RUBBER, at=(TimesAt(23.0, 600.0),)), "23 °C is given twice"),
    "demold before the pot life at another temperature": (
        with_times(RUBBER, at=(TimesAt(30.0, 600.0, 300.0),)),
        "At 30 °C demold (5 min) is not after the pot life (10 min)",
    ),
    # 15 min at 23 °C and 15 s at 30 °C: R ln(60) / (1/296.15 K - 1/303.15 K) = 437 kJ/mol (Arrhenius).
    "a table in the wrong unit": (with_times(RUBBER, at=(TimesAt(30.0, 15.0),)), "437 kJ/mol"),
    # 15 min to 10 min from 23 to 30 °C: R ln(1.5) / (1/296.15 K - 1/303.15 K) = 43.2 kJ/mol (Arrhenius).
    "an energy against the table": (
        with_times(RUBBER, activation_kj=100.0),
        "43 kJ/mol, but the activation energy is 100",
    ),
    "pot life longer than demold": (
        with_times(FOAM, demold_s=40.0),
        "Demold (40 s) must be longer than pot_life (50 s)",
    ),
    "no time to pour": (with_times(FOAM, mix_s=40.0), "Mix (40 s) and pour_reserve (12 s) together"),
    "full cure before demold": (with_times(FOAM, full_cure_s=600.0), "Full_cure (600 s)"),
    "reference outside its own limits": (with_times(FOAM, coldest_c=25.0), "Reference (23 °C) must lie between"),
    "no side is marked as the isocyanate": (with_component(FOAM, 0, isocyanate=False), "isocyanate = true"),
    "a silicone with an isocyanate": (with_component(SILICONE, 0, isocyanate=True), "no isocyanate"),
    "one side with both numbers": (with_component(FOAM, 0, nco_percent=30.0, oh_number=56.0), "both NCO and OH"),
    "an NCO content of the side that is not marked": (
        with_component(FOAM, 1, nco_percent=30.0),
        "B has an NCO content",
    ),
    "an OH number of the isocyanate": (with_component(FOAM, 0, oh_number=56.0), "A is marked as the isocyanate"),
    # 100 g of 30 % NCO against 60 g of OH number 30: 100/(4201.68/30) ÷ (60·30/56 106) = 0.714/0.0321, index 2226.
    "an index of no cast system": (
        with_component(with_component(FOAM, 0, nco_percent=30.0), 1, oh_number=30.0),
        "index of 22",
    ),
    "a silicone that foams": (replace(SILICONE, foam=FoamFacts(0.1)), "chemistry is addition-cure silicone"),
    "the density of the foam instead of its liquid": (replace(FOAM, density=0.31), "0.31 g/cm³"),
    "a foam no lighter than its liquid": (replace(FOAM, foam=FoamFacts(1.2)), "not below that of the liquid"),
    # 0.096 g/cm³ × 40 = 3.84 g/cm³: no casting liquid.
    "expansion and free rise of a liquid that cannot be": (
        replace(FOAM, density=None, foam=FoamFacts(0.096, 40.0)),
        "3.84 g/cm³",
    ),
    # Half and half by volume: (1.06 + 0.98)/2 = 1.02 g/cm³.
    "a mix heavier than its components": (replace(RUBBER, density=1.12), "are 1.02 g/cm³"),
    "a packing factor below one": (replace(FOAM, foam=FoamFacts(0.096, None, 0.8, 1.2)), "would not fill"),
    "a packing factor of several": (replace(FOAM, foam=FoamFacts(0.096, None, 1.1, 8.0)), "leaks or bursts"),
    "packing factors swapped": (replace(FOAM, foam=FoamFacts(0.096, None, 1.4, 1.1)), "swap them"),
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


ADVICE = {
    "hardly a second left": (with_times(FOAM, mix_s=35.0), "leave 3 s"),
    "a wide tolerance": (replace(FOAM, tolerance_percent=5.0), "± 5 % is wide for a urethane foam"),
    "no caution": (replace(FOAM, cautions=()), "No caution"),
    # 1000 g of A take 600 g of B at 100:60, so 18 g of 618 g (2.9 %) stay.
    "a little left of a kit": (
        replace(FOAM, kits=(Kit("odd", (KitPart("A", Mass.grams(1000)), KitPart("B", Mass.grams(618))), 100),)),
        "leaves 18 g of B (2.9 % of it)",
    ),
}


@pytest.mark.parametrize(("sheet", "says"), ADVICE.values(), ids=list(ADVICE))
def test_what_may_be_meant_so_is_advice_and_no_contradiction(sheet, says):
    told = review(sheet)
    assert told.contradictions == ()
    assert len(told.advice) == 1
    assert says in told.advice[0]


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=list(SHEETS))
def test_there_is_no_advice_on_the_examples(sheet):
    assert review(sheet).advice == ()


def test_equivalents_that_fit_are_not_told():
    """100 g of 16.8 % NCO: 0.400 equivalents; 60 g of OH number 356: 0.381, index 105."""
    fits = with_component(with_component(FOAM, 0, nco_percent=16.8), 1, oh_number=356.0)
    assert review(fits).contradictions == ()


def test_a_density_that_follows_from_the_components_is_told_where_it_is_missing():
    assert "would be 1.02 g/cm³" in " ".join(review(replace(RUBBER, density=None)).unknown)


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
