"""Rounding to the steps of a scale: the ratio holds, the batch is not too small, and a coarse scale is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.casting.batch import Recipe
from station.casting.ratio import weight_shares
from station.casting.rounding import rounded
from station.errors import Refused

SILICONE = Recipe({"A": 10 / 11, "B": 1 / 11}, {})
FOAM = Recipe({"A": 100 / 160, "B": 60 / 160}, {"pigment": 0.03 * 60 / 160})
STEPS = st.sampled_from([0.01, 0.1, 0.2, 0.5, 1.0, 5.0])


def recipe_of(parts, additive):
    return Recipe(dict(zip("ABCD", weight_shares(parts), strict=False)), {"pigment": additive} if additive else {})


def within(found, exact, tolerance, additive=10.0):
    """Every ratio to the first component, worked out anew from the masses."""
    for name, mass in found.masses.items():
        off = abs(mass / exact[name] / (found.masses["A"] / exact["A"]) - 1) * 100
        assert off <= (additive if name == "pigment" else tolerance) + 1e-6


@settings(max_examples=150)
@given(
    parts=st.lists(st.floats(1, 100), min_size=2, max_size=4),
    additive=st.sampled_from([0.0, 0.01, 0.1]),
    total=st.floats(20, 3000),
    step=STEPS,
    tolerance=st.floats(0.5, 5),
)
def test_rounding_never_breaks_the_tolerance_nor_falls_short(parts, additive, total, step, tolerance):
    recipe = recipe_of(parts, additive)
    exact = recipe.masses(total)
    try:
        found = rounded(recipe, total, step, tolerance)
    except Refused:
        # Only where the steps are coarse for the least of them.
        limits = {name: 10.0 if name == "pigment" else tolerance for name in exact}
        worst = max(step / 2 / mass * 100 / limits[name] for name, mass in exact.items())
        assert worst > 0.5
        return
    assert total - 1e-6 <= found.total_g <= total * 1.05 + step * len(exact) + 1e-6
    assert sum(found.masses.values()) == pytest.approx(found.total_g)
    assert all(mass / step == pytest.approx(round(mass / step), abs=1e-6) for mass in found.masses.values())
    within(found, exact, tolerance)


@given(
    parts=st.lists(st.floats(1, 100), min_size=2, max_size=3), left=st.floats(50, 3000), step=STEPS,
    tolerance=st.floats(0.5, 5),
)  # fmt: skip
def test_a_batch_from_what_is_left_never_asks_for_more_than_there_is(parts, left, step, tolerance):
    recipe = recipe_of(parts, 0.0)
    stock = {"B": left}
    total, _ = recipe.largest(stock)
    try:
        found = rounded(recipe, total, step, tolerance, left_g=stock)
    except Refused:
        assert step / min(recipe.masses(total).values()) * 100 > tolerance / 2
        return
    assert found.masses["B"] <= left + 1e-6
    within(found, recipe.masses(total), tolerance)


def test_a_scale_too_coarse_for_a_small_batch_is_refused_with_the_smallest_that_works():
    with pytest.raises(Refused) as refused:
        rounded(SILICONE, 8, 0.5, 2)
    # By hand: 0.5 g of B would want 5 g of A, 5.5 g in all, less than 8 g; 1 g and 10 g are the next.
    assert "11 g (A 10 g, B 1 g)" in refused.value.hint
    assert rounded(SILICONE, 11, 0.5, 2).masses == {"A": 10.0, "B": 1.0}


@settings(max_examples=50)
@given(parts=st.lists(st.floats(1, 30), min_size=2, max_size=3), tolerance=st.floats(0.5, 3))
def test_the_smallest_batch_that_is_named_does_work(parts, tolerance):
    recipe = recipe_of(parts, 0.0)
    try:
        rounded(recipe, 5, 1.0, tolerance)
    except Refused as refusal:
        named = float(refusal.hint.removeprefix("The smallest batch that works is ").split(" g")[0])
        rounded(recipe, named, 1.0, tolerance)  # would raise


def test_the_smaller_error_is_chosen_over_the_nearer_total_where_the_nearer_is_rough():
    # 33.3 : 1 in whole grams: 67 g and 2 g are 0.6 % off, 100 g and 3 g 0.1 %.
    recipe = Recipe({"A": 33.3 / 34.3, "B": 1 / 34.3}, {})
    found = rounded(recipe, 99, 1.0, 2)
    assert found.masses == {"A": 100.0, "B": 3.0}
    assert found.error_percent == pytest.approx(abs(3 / 100 * 33.3 - 1) * 100)


def test_an_additive_has_its_own_wider_tolerance():
    found = rounded(FOAM, 50, 0.1, 1)
    assert found.masses["pigment"] == pytest.approx(0.6)
    assert found.error_percent <= 1 < found.additive_error_percent <= 10


@pytest.mark.parametrize(
    ("recipe", "total", "step", "tolerance"),
    [(SILICONE, 0, 0.1, 2), (SILICONE, 10, 0, 2), (SILICONE, 10, 0.1, 0), (Recipe({"A": 1.0}, {"dye": 0.0}), 9, 1, 1)],
)
def test_nonsense_is_refused_with_a_sentence(recipe, total, step, tolerance):
    with pytest.raises(Refused) as refused:
        rounded(recipe, total, step, tolerance)
    assert refused.value.hint
