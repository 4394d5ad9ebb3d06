"""What casts cost, and how they are laid out over days."""

import subprocess
import sys
from itertools import pairwise, permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from station.casting.cost import good_share, of_cast, of_good_part, taken_from
from station.casting.purchase import KitOffer
from station.casting.schedule import DAY_MIN, Hours, MoldLoad, casts_a_day, schedule
from station.errors import Refused

ROOT = Path(__file__).resolve().parents[2]
SMALL, LARGE = KitOffer("small", {"A": 1000, "B": 600}, 3400), KitOffer("large", {"A": 5000, "B": 3000}, 14200)


def test_a_cast_takes_its_share_of_the_cheapest_kit():
    (share,) = taken_from([SMALL, LARGE], {"A": 100, "B": 60})
    assert (share.title, share.share) == ("large", pytest.approx(0.02))
    assert share.cost == pytest.approx(284)


def test_each_component_is_paid_at_the_price_of_its_own_can():
    cans = [KitOffer("a", {"A": 1000}, 1000), KitOffer("b", {"B": 1000}, 3000), KitOffer("c", {"pigment": 50}, 900)]
    found = taken_from(cans, {"A": 100, "B": 100, "pigment": 2})
    assert [(one.title, pytest.approx(one.cost)) for one in found] == [("a", 100), ("b", 300), ("c", 36)]
    with pytest.raises(Refused, match="price of pigment"):
        taken_from(cans[:2], {"A": 100, "pigment": 2})


def test_what_a_pair_holds_too_much_of_is_paid_for_with_it():
    assert sum(one.cost for one in taken_from([SMALL], {"A": 100, "B": 30})) == pytest.approx(340)
    assert taken_from([SMALL], {"A": 0}) == ()


@settings(deadline=None, max_examples=60)
@given(st.floats(1, 5000), st.floats(1, 5000), st.floats(1.5, 20))
def test_twice_the_cast_costs_twice_and_every_share_holds_it(a, b, times):
    kits = [SMALL, LARGE, KitOffer("b alone", {"B": 900}, 2500)]
    once = taken_from(kits, {"A": a, "B": b})
    for name, grams in (("A", a), ("B", b)):
        by_title = {kit.title: kit.grams.get(name, 0) for kit in kits}
        assert sum(one.share * by_title[one.title] for one in once) >= grams * (1 - 1e-6)
    again = taken_from(kits, {"A": a * times, "B": b * times})
    assert sum(one.cost for one in again) == pytest.approx(times * sum(one.cost for one in once), rel=1e-6)


SIZES = st.lists(st.tuples(st.floats(0.1, 50), st.integers(1, 90_000)), min_size=1, max_size=4)
PAIRS = st.tuples(st.floats(10, 3000), st.floats(10, 3000))


@settings(deadline=None, max_examples=60)
@given(PAIRS, PAIRS, SIZES, SIZES)
def test_kits_that_differ_in_size_alone_are_chosen_as_a_linear_programme_chooses(need, pair, pairs, cans):
    """The reference is HiGHS through scipy.optimize.linprog, on the programme as it stands in the docstring."""
    need_g = {"A": need[0], "B": need[1], "pigment": 3.0}
    kits = [
        KitOffer(f"pair {at}", {"A": pair[0] * size, "B": pair[1] * size}, price)
        for at, (size, price) in enumerate(pairs)
    ]
    kits += [KitOffer(f"can {at}", {"pigment": 5 * size}, price) for at, (size, price) in enumerate(cans)]
    held = [[kit.grams.get(name, 0.0) / grams for kit in kits] for name, grams in need_g.items()]
    reference = linprog(
        [kit.price for kit in kits], A_ub=[[-casts for casts in row] for row in held], b_ub=[-1] * 3, bounds=(0, None)
    )
    assert sum(one.cost for one in taken_from(kits, need_g)) == pytest.approx(reference.fun, rel=1e-6)


def test_kits_of_two_proportions_are_mixed():
    """By hand: half of each holds 60 g of A and 60 g of B, and by symmetry nothing is cheaper."""
    mixed = [KitOffer("much A", {"A": 100, "B": 20}, 1000), KitOffer("much B", {"A": 20, "B": 100}, 1000)]
    found = taken_from(mixed, {"A": 60, "B": 60})
    assert {one.title: pytest.approx(one.share, rel=1e-6) for one in found} == {"much A": 0.5, "much B": 0.5}


def test_the_price_of_a_usual_sheet_loads_no_solver():
    """It is worked out while a bench weighs: loading one holds up every thread of the process."""
    code = (
        "import sys; from station.casting.cost import taken_from; from station.casting.purchase import KitOffer\n"
        "kits = [KitOffer('small', {'A': 1000, 'B': 600}, 3400), KitOffer('large', {'A': 5000, 'B': 3000}, 14200)]\n"
        "assert taken_from(kits, {'A': 100, 'B': 60})\n"
        "sys.exit('scipy' in sys.modules or 'numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, cwd=ROOT).returncode == 0


def test_a_cast_bears_its_material_its_mold_and_what_it_uses_up():
    assert of_cast(320, mold_price=6400, mold_lasts=60, consumables=35).whole == pytest.approx(320 + 6400 / 60 + 35)
    with pytest.raises(Refused, match="no cast"):
        of_cast(320, mold_lasts=0)


@given(st.integers(0, 50), st.integers(0, 50))
def test_the_bad_casts_are_paid_by_the_good_ones(good, bad):
    share = good_share(good, good + bad)
    assert 0 < share < 1
    assert of_good_part(100, share) > 100


def test_without_a_cast_one_in_two_is_counted():  # Laplace's rule of succession
    assert good_share(0, 0) == 0.5
    assert good_share(10, 10) == pytest.approx(11 / 12)
    with pytest.raises(Refused):
        good_share(3, 2)


MOLDS = st.lists(st.tuples(st.integers(0, 5), st.integers(1, 120), st.integers(0, 3000)), min_size=1, max_size=4).map(
    lambda rows: [MoldLoad(f"m{i}", *row) for i, row in enumerate(rows)]
)
HOURS = st.builds(
    Hours,
    st.integers(0, 600),
    st.integers(740, 1440),
    st.sets(st.integers(0, 6), min_size=1).map(frozenset),
)


@settings(deadline=None)
@given(MOLDS, HOURS, st.integers(0, 6))
def test_every_schedule_can_be_worked(molds, hours, weekday):
    if sum(mold.casts for mold in molds) == 0:
        with pytest.raises(Refused):
            schedule(molds, hours, weekday)
        return
    made = schedule(molds, hours, weekday)
    by_name = {mold.name: mold for mold in molds}
    for mold in molds:
        mine = [cast for cast in made.casts if cast.mold == mold.name]
        assert [cast.number for cast in mine] == list(range(1, mold.casts + 1))
        for earlier, later in pairwise(mine):
            assert later.begun >= earlier.demolded
    for earlier, later in pairwise(made.casts):
        assert later.begun >= earlier.poured
    for cast in made.casts:
        for at in (cast.begun, cast.poured, cast.demolded):
            day, minute = divmod(at, DAY_MIN)
            day, minute = (
                (day - 1, DAY_MIN) if minute == 0 and hours.end == DAY_MIN and at == cast.poured else (day, minute)
            )
            assert (weekday + day) % 7 in hours.weekdays
            assert hours.start <= minute <= hours.end
        assert cast.poured - cast.begun == by_name[cast.mold].handling_min
        assert cast.demolded >= cast.ready == cast.poured + by_name[cast.mold].demold_min
    last = max(cast.demolded for cast in made.casts)
    assert last >= made.not_before
    if sum(mold.casts > 0 for mold in molds) == 1:
        assert last == made.not_before


def test_a_day_worked_out_by_hand():
    # One mold, 20 min of handling and 40 min to demold, 9:00 to 12:00: begins at 9, 10 and 11; the fourth next day.
    made = schedule([MoldLoad("pad", 4, 20, 40)], Hours(540, 720), 0)
    assert [cast.begun for cast in made.casts] == [540, 600, 660, DAY_MIN + 540]
    assert made.casts[2].demolded == 720
    assert casts_a_day(MoldLoad("pad", 4, 20, 40), Hours(540, 720)) == 3
    assert made.days == 2
    assert made.not_before == made.casts[-1].demolded == DAY_MIN + 600


def test_a_cure_runs_over_night_and_over_the_weekend():
    made = schedule([MoldLoad("mold", 2, 60, 16 * 60)], Hours(540, 1020), 4)  # begun on a Friday
    assert made.casts[0].demolded == 3 * DAY_MIN + 540  # Monday at nine
    assert made.casts[1].begun == made.casts[0].demolded


def test_while_one_mold_cures_the_hands_fill_the_other():
    made = schedule([MoldLoad("left", 1, 10, 60), MoldLoad("right", 1, 10, 60)], Hours(540, 1020), 0)
    assert [(cast.mold, cast.begun) for cast in made.casts] == [("left", 540), ("right", 550)]


def test_no_order_of_the_casts_ends_before_the_bound():
    # Three molds of one cast, every order of pouring tried by hand: 30 + 60 + 20 min of work from 9:00, then a cure.
    molds = [MoldLoad("a", 1, 30, 90), MoldLoad("b", 1, 60, 45), MoldLoad("c", 1, 20, 200)]
    made = schedule(molds, Hours(540, 1020), 0)
    ends = []
    for order in permutations(molds):
        at, out = 540, 0
        for mold in order:
            at += mold.handling_min
            out = max(out, at + mold.demold_min)
        ends.append(out)
    assert made.not_before <= min(ends) <= max(cast.demolded for cast in made.casts)
    assert made.not_before == 760  # mold c alone: 540 + 20 + 200


def test_handling_that_fills_days_puts_the_earliest_end_days_off():
    # 5 × 100 min of work in days of 240 min: 20 min are left for the third day, and the cure of 30 min after them.
    molds = [MoldLoad("a", 3, 100, 30), MoldLoad("b", 2, 100, 60)]
    assert schedule(molds, Hours(540, 780), 0).not_before == 2 * DAY_MIN + 540 + 20 + 30


@pytest.mark.parametrize(
    "molds",
    [
        [],
        [MoldLoad("a", 1, 999, 1)],
        [MoldLoad("a", 1, 1, 1)] * 2,
        [MoldLoad("a", 900, 1, 1)],
        [MoldLoad("a", 1, 0, 1)],
    ],
)
def test_what_cannot_be_laid_out_is_refused_with_what_to_do(molds):
    with pytest.raises(Refused) as refused:
        schedule(molds, Hours(), 0)
    assert refused.value.hint
