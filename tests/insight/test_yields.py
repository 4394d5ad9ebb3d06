"""Yields and defects: each share with its interval, each cast once in its groups, and few called few."""

import pytest

from station.core.judging_events import DefectKind, Severity
from station.insight.pareto import pareto
from station.insight.proportions import proportion
from station.insight.yields import By, in_all, yields
from tests.insight.made import GOOD, SCRAP, USABLE, cast, defect


def test_a_cast_that_nobody_judged_counts_as_poured_only():
    found = in_all([cast(1, verdict=GOOD), cast(2, verdict=USABLE), cast(3, verdict=SCRAP), cast(4)])
    assert found.casts == 4
    assert (found.good.count, found.good.of) == (1, 3)
    assert (found.fit.count, found.fit.of) == (2, 3)
    assert found.few
    assert in_all([cast(1)]) is None


def test_yields_are_grouped_by_what_is_asked():
    casts = [
        cast(1, verdict=GOOD, lots=(("A", "L1"), ("B", "M1")), temperature_c=19.9),
        cast(2, verdict=SCRAP, lots=(("A", "L1"), ("B", "M2")), temperature_c=20.0, mold="grip", mold_title="Grip"),
        cast(3, verdict=GOOD, lots=(("A", "L2"), ("B", "")), temperature_c=-1.0),
        cast(4, lots=(("A", "L3"),), temperature_c=9.0),
    ]
    assert [(one.name, one.good.count, one.good.of) for one in yields(casts, By.LOT)] == [
        ("A: L1", 1, 2),
        ("A: L2", 1, 1),
        ("B: M1", 1, 1),
        ("B: M2", 0, 1),
    ]
    assert [one.name for one in yields(casts, By.TEMPERATURE)] == ["-5…0 °C", "15…20 °C", "20…25 °C"]
    assert [one.name for one in yields(casts, By.MOLD)] == ["Grip", "Pad"]
    assert [one.casts for one in yields(casts, By.MATERIAL)] == [4]


def test_nothing_can_be_asked_by_a_person():
    assert {by.name for by in By} == {"MOLD", "MATERIAL", "LOT", "TEMPERATURE"}


def test_defects_stand_in_the_order_of_their_number():
    casts = [
        cast(1, verdict=SCRAP, defects=(defect(DefectKind.VOID), defect(DefectKind.VOID), defect(DefectKind.FLASH))),
        cast(2, verdict=SCRAP, defects=(defect(DefectKind.VOID, Severity.SPOILT),)),
        cast(3, verdict=USABLE, defects=(defect(DefectKind.SINK, Severity.SLIGHT),)),
        cast(4, verdict=GOOD),
        cast(5),
    ]
    found = pareto(casts)
    assert [(one.kind, one.casts.count, one.casts.of, one.spoilt) for one in found] == [
        (DefectKind.VOID, 2, 4, 1),
        (DefectKind.FLASH, 1, 4, 0),
        (DefectKind.SINK, 1, 4, 0),
    ]
    assert [one.up_to_here for one in found] == pytest.approx([0.5, 0.75, 1.0])


def test_of_no_defects_there_is_no_order():
    assert pareto([cast(1, verdict=GOOD)]) == ()
    assert pareto([]) == ()


@pytest.mark.parametrize(("count", "of"), [(1, 0), (3, 2), (-1, 4)])
def test_a_share_of_nothing_is_a_mistake(count, of):
    with pytest.raises(ValueError, match="no share"):
        proportion(count, of)
