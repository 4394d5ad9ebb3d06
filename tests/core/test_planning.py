"""What a plan refuses, with the numbers that a person needs to plan better."""

import re
from dataclasses import replace

import pytest

from station.core.mass import Mass
from station.core.material import Cup, Lot, ScaleCard
from station.core.plan import CastPlan, Way
from station.core.planning import planned
from station.core.standing import Standing
from station.core.steps import ReadyCheck
from station.core.workplace import Workplace
from station.errors import Refused
from station.metrology.promise import ScalePromise
from tests.play import CARD, FOAM, GRIP, PAD, PLACE, RUBBER, SILICONE, Play


def plan(material, grams, place=PLACE, lots=()):
    return planned(material, PAD, Mass.grams(grams), place=place, standing=Standing(), lots=lots)


def test_a_batch_too_small_for_the_scale_is_refused_with_the_smallest_that_works():
    coarse = replace(PLACE, scale=ScaleCard(Mass.grams("1"), Mass.grams(5000)))
    with pytest.raises(Refused, match="smallest batch that works is 451 g") as refusal:
        plan(SILICONE, "110", coarse)
    # 10:1 at ± 2 %: B needs 2 x 0.41 x 1 g / 0.02 = 41 g, so the whole 451 g (USP <41> form).
    assert "41 g" in str(refusal.value)
    assert plan(SILICONE, "452", coarse).total == Mass.grams(452)


@pytest.mark.parametrize("grams", ["0.001", "0.002", "0.01", "0.1", "1"])
@pytest.mark.parametrize("material", [SILICONE, FOAM, RUBBER])
def test_the_smallest_batch_does_not_depend_on_how_little_was_asked_for(material, grams):
    """Of a milligram nothing is left of the smaller shares once they are rounded."""
    with pytest.raises(Refused) as refusal:
        plan(material, grams)
    named = float(re.search(r"smallest batch that works is ([\d.]+) g", str(refusal.value))[1])
    assert plan(material, f"{named + 0.1:.1f}").total.g == pytest.approx(named + 0.1)
    with pytest.raises(Refused):
        plan(material, f"{named * 0.97:.1f}")


def test_a_batch_beyond_the_cup_or_the_scale_names_the_limit():
    with pytest.raises(Refused, match=r"holds 900\.0 g"):
        plan(SILICONE, "1000")
    with pytest.raises(Refused, match=r"ends at 3000\.0 g"):
        plan(SILICONE, "3100", replace(PLACE, cup=Cup(Mass.grams(5000))))


@pytest.mark.parametrize("grams", ["0", "-5"])
def test_an_amount_that_is_none_is_refused(grams):
    with pytest.raises(Refused, match="above zero"):
        plan(SILICONE, grams)


def test_a_lot_that_does_not_last_is_named_with_what_is_left_after_earlier_casts():
    lots = (Lot("A", "W-17", Mass.grams(350)),)
    play = Play()
    play.begin(SILICONE, "220", GRIP, lots)
    play.put("24.3")
    play.pour("200")
    assert play.standing.used("W-17") == Mass.grams(200)
    with pytest.raises(Refused, match=r"150\.0 g are left"):
        planned(SILICONE, PAD, Mass.grams(220), place=PLACE, standing=play.standing, lots=lots)


def test_the_ready_check_comes_before_first_contact_and_may_be_switched_off():
    steps = plan(RUBBER, "200").steps
    ready = next(i for i, step in enumerate(steps) if isinstance(step, ReadyCheck))
    reactive = next(i for i, step in enumerate(steps) if getattr(step, "reactive", False))
    assert ready == reactive - 1
    assert "clamps" in steps[ready].items
    without = plan(RUBBER, "200", replace(PLACE, ready_check=False)).steps
    assert not any(isinstance(step, ReadyCheck) for step in without)


def test_a_slow_rubber_goes_into_one_cup_and_a_fast_foam_into_two():
    assert plan(RUBBER, "200").way is Way.ONE_CUP
    assert plan(FOAM, "160").way is Way.TWO_CUPS
    assert plan(FOAM, "160", replace(PLACE, weighing_s=20)).way is Way.ONE_CUP


def test_missing_lots_and_example_sheets_are_noted():
    notes = plan(replace(SILICONE, example=True), "220").notes
    assert any("invented example" in note for note in notes)
    assert any("No lot is named for A, B" in note for note in notes)
    assert Workplace(CARD, Cup(Mass.grams(1))).ready_check


def test_what_the_last_check_found_makes_the_smallest_batch_larger():
    checked = replace(PLACE, promise=ScalePromise(0.1, 3000, repeatability_g=0.15))
    # B of 10:1 at ± 2 %: 2 x 0.15 g / 0.02 = 15 g instead of 2 x 0.041 / 0.02 = 4.1 g (USP <41> form, s for 0.41 d).
    with pytest.raises(Refused, match="smallest batch that works is 165") as refusal:
        plan(SILICONE, "110", checked)
    assert "s = 0.15 g" in str(refusal.value)
    assert plan(SILICONE, "110").total == Mass.grams(110)
    assert plan(SILICONE, "166", checked).total == Mass.grams(166)


def test_a_scale_whose_error_takes_the_whole_tolerance_is_refused_at_any_batch():
    off = replace(PLACE, promise=ScalePromise(0.1, 3000, sensitivity_error=0.03))
    with pytest.raises(Refused, match="at any mass"):
        plan(SILICONE, "220", off)


def margin_of(made: CastPlan) -> str:
    return next(note for note in made.notes if "(k = 2)" in note)


def test_the_plan_shows_how_surely_the_scale_holds_the_ratio():
    margin = margin_of(plan(SILICONE, "220"))
    # u(A:B) relative = u/B sqrt(1 + ...) with u = 0.041 g: at least 2 x 0.041/20 = 0.41 % of the 2 % (GUM 5.1.6).
    percent = float(re.search(r"± ([0-9.]+) % \(k = 2\)", margin)[1])
    assert 0.41 <= percent < 0.7
    assert "readability alone" in margin
    checked = margin_of(plan(SILICONE, "220", replace(PLACE, promise=ScalePromise(0.1, 3000, repeatability_g=0.1))))
    assert "its last check" in checked
    assert float(re.search(r"± ([0-9.]+) % \(k = 2\)", checked)[1]) > percent


def test_the_cup_counts_against_the_end_of_the_scale():
    heavy = replace(PLACE, cup=Cup(Mass.grams(5000), "pail", Mass.grams(400)))
    with pytest.raises(Refused, match=r"2700\.0 g of mix and 400\.0 g of cup are beyond the scale"):
        plan(SILICONE, "2700", heavy)
    assert plan(SILICONE, "2500", heavy).total == Mass.grams(2500)


def test_a_ratio_that_the_scale_eats_up_leaves_nothing_for_pouring():
    # 10:1 at ± 2 %: B alone may be held to 2 %, A:B together just not (GUM 5.1.6: relative variances add).
    margin = plan(SILICONE, "45.2").notes[0]
    assert "nothing is left for pouring" in margin
