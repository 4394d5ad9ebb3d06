"""Ratio, additives and batch: what holds for every mix."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from station.casting.batch import Recipe, grown_for_loss, mixed_density
from station.casting.ratio import Of, additive_shares, volume_shares, weight_shares
from station.errors import Refused

PARTS = st.lists(st.floats(0.5, 200), min_size=2, max_size=4)
SILICONE = Recipe({"A": 10 / 11, "B": 1 / 11}, {})
FOAM = Recipe({"A": 100 / 160, "B": 60 / 160}, {"pigment": 0.03 * 60 / 160})


@given(PARTS, st.floats(0.1, 10))
def test_scaling_all_parts_changes_no_share(parts, factor):
    assert weight_shares([part * factor for part in parts]) == pytest.approx(weight_shares(parts))


@given(PARTS)
def test_the_order_of_components_changes_no_share(parts):
    assert weight_shares(parts[::-1]) == pytest.approx(weight_shares(parts)[::-1])


@given(st.lists(st.tuples(st.floats(0.5, 200), st.floats(0.5, 2)), min_size=2, max_size=4))
def test_volume_and_weight_shares_are_each_others_inverse(pairs):
    parts, densities = [list(values) for values in zip(*pairs, strict=True)]
    back = weight_shares(volume_shares(weight_shares(parts), densities), densities)
    assert back == pytest.approx(weight_shares(parts))


def test_additives_count_from_a_component_from_all_or_from_the_whole():
    assert additive_shares(((3, Of.COMPONENT, 0.375),)) == pytest.approx((0.01125,))
    assert additive_shares(((3, Of.COMPONENTS, 1),)) == pytest.approx((0.03,))
    assert additive_shares(((10, Of.WHOLE, 1),)) == pytest.approx((1 / 9,))


@given(st.floats(0.1, 30), st.floats(0.1, 30), st.floats(0.1, 20))
def test_an_additive_of_the_whole_mix_is_that_part_of_it(first, second, third):
    shares = additive_shares(((first, Of.WHOLE, 1), (second, Of.WHOLE, 1), (third, Of.COMPONENTS, 1)))
    whole = 1 + sum(shares)
    assert shares[0] / whole * 100 == pytest.approx(first)
    assert shares[1] / whole * 100 == pytest.approx(second)
    assert shares[2] * 100 == pytest.approx(third)


@pytest.mark.parametrize("wrong", [((60, Of.WHOLE, 1), (40, Of.WHOLE, 1)), ((-1, Of.COMPONENTS, 1),)])
def test_additives_that_leave_no_mix_are_refused(wrong):
    with pytest.raises(ValueError, match="additives"):
        additive_shares(wrong)


@given(st.floats(0.1, 100_000))
def test_the_masses_of_a_batch_add_up_and_lead_back_to_its_total(total):
    masses = FOAM.masses(total)
    assert sum(masses.values()) == pytest.approx(total)
    for name, mass in masses.items():
        assert FOAM.total_from(name, mass) == pytest.approx(total)


def test_what_is_left_limits_the_batch():
    total, limit = SILICONE.largest({"A": 1000, "B": 80})
    assert limit == "B"
    assert total == pytest.approx(880)


@given(PARTS, st.dictionaries(st.sampled_from("ABCD"), st.floats(1, 10_000), min_size=1))
def test_the_largest_batch_takes_all_of_what_limits_it_and_no_more_of_the_others(parts, left):
    recipe = Recipe(dict(zip("ABCD", weight_shares(parts), strict=False)), {"pigment": 0.02})
    left = {name: mass for name, mass in left.items() if name in recipe.components}
    assume(left)
    total, limit = recipe.largest(left)
    masses = recipe.masses(total)
    assert masses[limit] == pytest.approx(left[limit])
    assert all(masses[name] <= mass * (1 + 1e-9) for name, mass in left.items())


@pytest.mark.parametrize("left", [{}, {"A": 0}, {"C": 100}])
def test_stock_that_makes_no_batch_is_refused(left):
    with pytest.raises(Refused):
        SILICONE.largest(left)


@given(st.floats(1, 10_000), st.floats(0, 80))
def test_growing_for_loss_leaves_what_was_wanted(wanted, loss):
    assert grown_for_loss(wanted, loss) * (1 - loss / 100) == pytest.approx(wanted)


def test_the_density_of_a_mix_lies_between_those_of_its_components():
    assert mixed_density({"A": 0.5, "B": 0.5}, {"A": 1.0, "B": 1.25}) == pytest.approx(2 / (1 / 1.0 + 1 / 1.25))
    with pytest.raises(Refused, match="density of B"):
        mixed_density({"A": 0.5, "B": 0.5}, {"A": 1.0})
