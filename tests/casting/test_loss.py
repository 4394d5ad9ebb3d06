"""The loss in cup and tools, learned from emptied cups of each size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.batch import grown_for_loss
from station.casting.loss import DEFAULT_PERCENT, LAST, Emptied, allowance, emptied
from station.errors import Refused


def test_the_loss_of_a_cup_is_learned_per_size():
    seen = [Emptied(1000, 2.0), Emptied(200, 6.0), Emptied(1000, 3.0)]
    assert allowance(1000, seen).percent == pytest.approx(2.5)
    assert allowance(210, seen).percent == pytest.approx(6.0)
    assert allowance(600, seen).percent == pytest.approx(6 + (600 - 200) / 800 * (2.5 - 6))
    assert allowance(5000, seen).percent == pytest.approx(2.5)
    assert "1000 g" in allowance(5000, seen).source


def test_without_an_emptied_cup_the_allowance_is_common_practice_and_says_so():
    assert allowance(500, []).percent == DEFAULT_PERCENT
    assert "common practice" in allowance(500, []).source


def test_only_the_last_cups_of_a_size_count_and_the_nearest_size_is_taken():
    seen = [Emptied(1000, 20.0)] + [Emptied(1000, 2.0)] * LAST + [Emptied(1180, 5.0)]
    assert allowance(1000, seen).percent == pytest.approx(2.0)
    assert allowance(1160, seen).percent == pytest.approx(5.0)


@given(st.lists(st.tuples(st.floats(50, 5000), st.floats(0, 20)), min_size=1, max_size=12), st.floats(50, 5000))
def test_a_learned_loss_lies_among_the_losses_seen(cups, capacity):
    found = allowance(capacity, [Emptied(size, percent) for size, percent in cups]).percent
    assert min(p for _, p in cups) - 1e-9 <= found <= max(p for _, p in cups) + 1e-9


@given(st.floats(10, 2000), st.floats(0, 0.5))
def test_planning_with_what_a_cup_taught_pours_what_was_wanted(mixed, part):
    cup = emptied(2000, mixed, mixed * part)
    assert grown_for_loss(100, cup.percent) * (1 - part) == pytest.approx(100)


@pytest.mark.parametrize("cup", [(1000, 0, 0), (1000, 100, 100), (100, 500, 1), (1000, 100, -1)])
def test_a_cup_that_cannot_be_is_refused_with_a_sentence(cup):
    with pytest.raises(Refused, match="cannot be"):
        emptied(*cup)


def test_a_cup_of_nothing_is_refused():
    with pytest.raises(Refused):
        allowance(0, [])
