"""The cheapest kits, proved against trying everything."""

import math
import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.casting import purchase
from station.casting.purchase import MOST_KITS, KitOffer, cheapest, reorder_at_g
from station.errors import Refused

GRAMS = st.integers(0, 40).map(lambda n: n * 25.0)
OFFERS = st.lists(
    st.builds(
        lambda a, b, price, most: KitOffer("", {"A": a, "B": b}, price, most),
        GRAMS,
        GRAMS,
        st.integers(1, 5000),
        st.none() | st.integers(0, 3),
    ),
    min_size=1,
    max_size=3,
).map(lambda kits: [KitOffer(str(i), kit.grams, kit.price, kit.most) for i, kit in enumerate(kits)])
NEEDS = st.fixed_dictionaries({"A": st.integers(0, 2000).map(float), "B": st.integers(0, 2000).map(float)})


def tried(offers, need):
    """(price, grams, kits) of the best of all combinations; None when none covers the need."""
    most = []
    for kit in offers:
        useful = max((math.ceil(need[c] / kit.grams[c]) for c in need if kit.grams[c] > 0), default=0)
        most.append(useful if kit.most is None else min(kit.most, useful))
    if any(n > 80 for n in most):
        return "too many"
    best = None
    for counts in product(*(range(n + 1) for n in most)):
        held = {c: sum(n * kit.grams[c] for n, kit in zip(counts, offers, strict=True)) for c in need}
        if all(held[c] >= need[c] for c in need):
            grams = sum(
                n * sum(kit.grams[c] for c in need if need[c] > 0) for n, kit in zip(counts, offers, strict=True)
            )
            found = (sum(n * kit.price for n, kit in zip(counts, offers, strict=True)), grams, sum(counts))
            best = found if best is None else min(best, found)
    return best


@settings(deadline=None, max_examples=150)
@given(OFFERS, NEEDS)
def test_nothing_cheaper_covers_the_need(offers, need):
    best = tried(offers, need)
    if best == "too many":
        return
    try:
        found = cheapest(offers, need)
    except Refused:
        assert best is None
        return
    by_title = {kit.title: kit for kit in offers}
    grams = sum(n * sum(by_title[t].grams[c] for c in need if need[c] > 0) for t, n in found.counts.items())
    assert (found.price, pytest.approx(grams), sum(found.counts.values())) == best
    for component, surplus in found.surplus_g.items():
        held = sum(n * by_title[t].grams[component] for t, n in found.counts.items())
        assert held - need[component] == pytest.approx(surplus)
        assert surplus >= 0


def test_taking_the_cheapest_gram_first_would_be_dearer():
    large, small = KitOffer("large", {"A": 1000.0}, 10000), KitOffer("small", {"A": 400.0}, 4800)
    # 10.0 a gram against 12.0: the greedy hand takes large twice, 200.00, where large and small cover it for 148.00.
    found = cheapest([large, small], {"A": 1300.0})
    assert (dict(found.counts), found.price) == ({"large": 1, "small": 1}, 14800)


def test_a_milligram_more_than_a_large_can_is_no_second_can_and_a_gram_is():
    kits = [KitOffer("can", {"A": 4989.512}, 99), KitOffer("dear", {"A": 1000.0}, 999_999)]
    assert dict(cheapest(kits, {"A": 4989.5124}).counts) == {"can": 1}
    assert dict(cheapest(kits, {"A": 4990.6}).counts) == {"can": 2}


@pytest.mark.parametrize("need", [453.592, 5 * 453.592, 16 * 453.592])
def test_kits_of_odd_measure_are_counted_exactly(need):
    kits = [KitOffer("one", {"A": 453.592}, 1000), KitOffer("five", {"A": 2267.96}, 4000)]
    fives, ones = divmod(round(need / 453.592), 5)
    assert dict(cheapest(kits, {"A": need}).counts) == {name: n for name, n in (("five", fives), ("one", ones)) if n}


@settings(deadline=None, max_examples=40)
@given(OFFERS, NEEDS)
def test_the_order_of_the_offers_does_not_matter(offers, need):
    try:
        found = cheapest(offers, need)
    except Refused:
        with pytest.raises(Refused):
            cheapest(offers[::-1], need)
        return
    assert cheapest(offers[::-1], need) == found


def test_what_no_kit_holds_and_what_runs_out_is_refused():
    with pytest.raises(Refused, match="No kit on offer holds B"):
        cheapest([KitOffer("a", {"A": 10.0}, 1)], {"A": 5.0, "B": 1.0})
    with pytest.raises(Refused, match="do not cover"):
        cheapest([KitOffer("a", {"A": 10.0}, 1, most=2)], {"A": 50.0})
    with pytest.raises(Refused, match="share a title"):
        cheapest([KitOffer("a", {"A": 10.0}, 1)] * 2, {"A": 50.0})
    assert cheapest([KitOffer("a", {"A": 10.0}, 1)], {"A": 0.0}).price == 0


def test_a_search_that_would_not_end_is_given_up_in_a_sentence(monkeypatch):
    monkeypatch.setattr(purchase, "SEARCH_S", 0.02)
    # Sixteen sizes without a common measure, each as dear as it is heavy: nearly every combination is as good.
    chance = random.Random(1)
    sizes = [chance.randint(100_000, 999_999) / 10 for _ in range(16)]
    kits = [
        KitOffer(f"{i:02}", {"A": a, "B": chance.randint(100_000, 999_999) / 10}, int(a * 10 + chance.randint(-3, 3)))
        for i, a in enumerate(sizes)
    ]
    with pytest.raises(Refused, match="too many combinations"):
        cheapest(kits, {"A": 987_654.3, "B": 876_543.2})


def test_more_kits_than_are_compared_are_refused():
    kits = [KitOffer(f"{i}", {"A": 1.0 + i}, 100 + i) for i in range(MOST_KITS + 1)]
    with pytest.raises(Refused, match="more than the 20"):
        cheapest(kits, {"A": 5.0})


@given(st.floats(0, 500), st.floats(0, 60), st.floats(0, 1000))
def test_the_reorder_point_lasts_until_the_delivery(use, days, reserve):
    assert reorder_at_g(use, days, reserve) - use * days == pytest.approx(reserve, abs=1e-6)
