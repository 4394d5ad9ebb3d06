"""What a sheet says in words leaves nothing out."""

from dataclasses import fields, replace

import pytest

from station.casting.chemistry import Chemistry
from station.core.mass import Mass
from station.core.material import (
    Additive,
    Basis,
    Component,
    FoamFacts,
    Kit,
    KitPart,
    Material,
    PotLifeOf,
    Times,
    TimesAt,
)
from station.core.sheet_words import sheet_words
from station.core.spans import span

FULL = Material(
    key="full",
    title="A full sheet (invented)",
    components=(
        Component("A", 100.0, 1.1, 95.0, True, 16.8, None, 90.0),
        Component("B", 60.0, 1.04, 60.0, False, None, 56.0, 180.0),
    ),
    basis=Basis.WEIGHT,
    times=Times(
        50.0,
        15.0,
        12.0,
        1200.0,
        86400.0,
        23.0,
        100.0,
        (PotLifeOf(500.0, 40.0),),
        18.0,
        30.0,
        50.0,
        (TimesAt(30.0, 35.0, 900.0),),
    ),
    tolerance_percent=2.0,
    weigh_order=("A", "B"),
    pour_into="B",
    additives=(Additive("pigment", 3.0, "B", "B", 20.0, 12.0),),
    cling_percent=1.5,
    ready_items=("lid",),
    cautions=("Ventilate.",),
    example=True,
    chemistry=Chemistry.URETHANE_FOAM,
    density=1.08,
    foam=FoamFacts(0.096, 11.0, 1.05, 1.4),
    hardness="20 Shore A",
    shrinkage_percent=0.3,
    kits=(Kit("pair", (KitPart("A", Mass.grams(1000)),), 3400),),
)


def another(value):
    """A value of the same kind that is not this one."""
    match value:
        case bool():
            return not value
        case Basis.WEIGHT:
            return Basis.VOLUME
        case Chemistry():
            return Chemistry.OTHER
        case float() | int():
            return value + 1
        case None:
            return 7.0
        case str():
            return value + "x"
        case tuple():
            return ()
        case Mass():
            return Mass(value.mg + 1000)
    raise AssertionError(value)


def variants(whole):
    """The same with one fact changed, for each fact and down to the innermost."""
    for fact in fields(whole):
        value = getattr(whole, fact.name)
        inner = value[0] if isinstance(value, tuple) and value else value
        if isinstance(inner, Times | FoamFacts | Component | Additive | Kit | KitPart | PotLifeOf | TimesAt):
            for name, changed in variants(inner):
                rest = (changed, *value[1:]) if isinstance(value, tuple) else changed
                yield f"{fact.name} {name}", replace(whole, **{fact.name: rest})
        else:
            yield fact.name, replace(whole, **{fact.name: another(value)})


CHANGED = dict(variants(FULL))


@pytest.mark.parametrize("sheet", CHANGED.values(), ids=list(CHANGED))
def test_whatever_changes_on_a_sheet_changes_its_words(sheet):
    assert sheet != FULL
    assert sheet_words(sheet) != sheet_words(FULL)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(50, "50 s"), (90, "1.5 min"), (900, "15 min"), (5400, "1.5 h"), (86400, "24 h"), (259200, "3 d")],
)
def test_a_time_is_said_in_the_unit_people_use(seconds, said):
    assert span(seconds) == said
