"""Ratio, additives, batch, rounding and loss: what holds for every mix."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from station.casting.batch import Recipe, grown_for_loss, mixed_density, rounded
from station.casting.loss import DEFAULT_PERCENT, Emptied, allowance
from station.casting.ratio import Of, additive_share, additive_shares, compared, volume_shares, weight_shares
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


def test_two_statements_of_a_ratio_agree_within_what_was_printed():
    agreed = compared((100, 92), (1, 1), (1.06, 0.98))
    assert agreed.agrees
    assert agreed.percent == pytest.approx(abs((0.98 / 1.06) / 0.92 - 1) * 100)


def test_two_statements_that_differ_by_more_than_rounding_are_told_apart():
    off = compared((100, 60), (1, 1), (1.23, 1.04))
    assert not off.agrees
    assert off.percent == pytest.approx(abs((1.04 / 1.23) / 0.6 - 1) * 100)


def test_additives_count_from_a_component_from_all_or_from_the_whole():
    assert additive_share(3, Of.COMPONENT, 0.375) == pytest.approx(0.01125)
    assert additive_share(3, Of.COMPONENTS) == pytest.approx(0.03)
    assert additive_share(10, Of.WHOLE) == pytest.approx(1 / 9)


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


@given(
    parts=st.lists(st.floats(1, 100), min_size=2, max_size=4),
    total=st.floats(20, 3000),
    step=st.sampled_from([0.01, 0.1, 0.5, 1.0]),
    tolerance=st.floats(0.5, 5),
)
def test_rounding_to_the_scale_never_breaks_the_tolerance(parts, total, step, tolerance):
    recipe = Recipe(dict(zip("ABCD", weight_shares(parts), strict=False)), {})
    exact = recipe.masses(total)
    try:
        found = rounded(recipe, total, step, tolerance)
    except Refused as refusal:
        assert step / 2 / min(exact.values()) * 100 > tolerance / 2  # noqa: PT017
        assert "From about" in refusal.hint  # noqa: PT017
        return
    assert found.total_g >= total - 1e-6
    grown = found.masses["A"] / exact["A"]
    assert grown <= 1.05 + 2 * step / exact["A"]
    for name, mass in found.masses.items():
        assert mass / step == pytest.approx(round(mass / step), abs=1e-6)
        assert abs(mass / (exact[name] * grown) - 1) * 100 <= tolerance + 1e-6


def test_a_scale_too_coarse_for_a_small_batch_is_refused_with_one_that_works():
    with pytest.raises(Refused) as refused:
        rounded(SILICONE, 8, 0.5, 2)
    least = float(refused.value.hint.split()[2])
    assert rounded(SILICONE, least, 0.5, 2).error_percent <= 2


@given(st.floats(1, 10_000), st.floats(0, 80))
def test_growing_for_loss_leaves_what_was_wanted(wanted, loss):
    assert grown_for_loss(wanted, loss) * (1 - loss / 100) == pytest.approx(wanted)


def test_the_density_of_a_mix_lies_between_those_of_its_components():
    assert mixed_density({"A": 0.5, "B": 0.5}, {"A": 1.0, "B": 1.25}) == pytest.approx(2 / (1 / 1.0 + 1 / 1.25))
    with pytest.raises(Refused, match="density of B"):
        mixed_density({"A": 0.5, "B": 0.5}, {"A": 1.0})


def test_the_loss_of_a_cup_is_learned_per_size():
    seen = [Emptied(1000, 2.0), Emptied(200, 6.0), Emptied(1000, 3.0)]
    assert allowance(1000, seen).percent == pytest.approx(2.5)
    assert allowance(210, seen).percent == pytest.approx(6.0)
    assert allowance(600, seen).percent == pytest.approx(6 + (600 - 200) / 800 * (2.5 - 6))
    assert allowance(5000, seen).percent == pytest.approx(2.5)
    assert "1000 g" in allowance(5000, seen).source
    assert allowance(500, []).percent == DEFAULT_PERCENT
    assert "common practice" in allowance(500, []).source


@given(st.lists(st.tuples(st.floats(50, 5000), st.floats(0, 20)), min_size=1, max_size=12), st.floats(50, 5000))
def test_a_learned_loss_lies_among_the_losses_seen(cups, capacity):
    assume(capacity > 0)
    found = allowance(capacity, [Emptied(size, percent) for size, percent in cups]).percent
    assert min(p for _, p in cups) - 1e-9 <= found <= max(p for _, p in cups) + 1e-9
