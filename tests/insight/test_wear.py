"""The wear of a mold: held against tables, other hands and enumeration; how often it claims what is not there.

Masses and verdicts here are invented.
"""

import random
from itertools import combinations, permutations

import pytest
from statsmodels.stats.proportion import confint_proportions_2indep

from station.core.judging_events import DefectKind
from station.insight.wear import LEAST, TOGETHER, Sort, _monotone, _ranks, _slope, wear
from station.insight.wear_said import said, summary
from tests.insight.made import GOOD, SCRAP, cast, defect

TEAR, FLASH, VOID = (defect(kind) for kind in (DefectKind.TEAR, DefectKind.FLASH, DefectKind.VOID))
RISING = [100.1, 100.0, 100.3, 100.2, 100.6, 100.5, 100.9, 100.8, 101.0, 101.3]


def weighed(masses, **other):
    return [cast(shot, part_g=mass, trimmed=True, cavity_cm3=250.0, **other) for shot, mass in enumerate(masses, 1)]


def judged(torn, shots=20):
    """Shots of which those in `torn` came out torn and are scrap."""
    return [
        cast(shot, verdict=SCRAP if shot in torn else GOOD, defects=(TEAR,) if shot in torn else (VOID,))
        for shot in range(1, shots + 1)
    ]


def trend(facts, sort):
    return next(one for one in wear(facts).trends if one.sort is sort)


def test_the_slope_is_that_of_a_published_example():
    """Cloud seeding, years 1 to 5: slope -0.056, and a chance of 0.117 for so much in one direction.

    Hollander and Wolfe, Nonparametric Statistical Methods (1973), example of Theil's estimate and its table of
    Kendall's statistic: from memory.
    """
    years, ratios = [1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03]
    assert _slope(years, ratios).per_shot == pytest.approx(-0.05625)
    assert _monotone(years, ratios) == pytest.approx(2 * 14 / 120)


def test_the_chance_of_a_rise_is_that_of_all_orders_there_are():
    values = [3.0, 1.0, 4.0, 2.0, 6.0, 5.0, 7.0]

    def rises(order):
        return sum(
            (order[b] > order[a]) - (order[b] < order[a]) for a in range(len(order)) for b in range(a + 1, len(order))
        )

    seen = abs(rises(values))
    orders = [abs(rises(order)) for order in permutations(values)]
    assert _monotone(list(range(7)), values) == pytest.approx(sum(one >= seen for one in orders) / len(orders))


def test_the_chance_that_bad_shots_come_late_is_that_of_all_ways_to_deal_them():
    late, n = (4, 7, 8, 9), 10
    seen = abs(sum(late) - 4 * (n - 1) / 2)
    ways = [abs(sum(way) - 4 * (n - 1) / 2) for way in combinations(range(n), 4)]
    assert _ranks([at in late for at in range(n)]) == pytest.approx(sum(one >= seen for one in ways) / len(ways))
    assert _ranks([True] * n) == _ranks([False] * n) == 1.0


def test_the_interval_between_the_halves_is_that_of_another_hand():
    torn = {3, 11, 13, 14, 16, 17, 19, 20}
    halves = trend(judged(torn), Sort.WORN).halves
    assert (halves.earlier.bad, halves.earlier.of, halves.later.bad, halves.later.of) == (1, 10, 7, 10)
    low, high = confint_proportions_2indep(7, 10, 1, 10, method="newcomb", alpha=1 - TOGETHER)
    assert (halves.within.low, halves.within.high) == (pytest.approx(low), pytest.approx(high))


def test_tears_that_come_with_the_shots_are_claimed_and_other_defects_are_no_wear():
    found = wear(judged({3, 11, 13, 14, 15, 16, 17, 18, 19, 20}))
    assert [(one.sort, one.claimed) for one in found.trends] == [
        (Sort.WORN, True),
        (Sort.NOT_GOOD, True),
        (Sort.MASS, False),
    ]
    assert summary(found).startswith("Over its shots these became more: tears and flash, parts that were not good.")
    row = said(found)[0]
    assert row.shots == "1 to 20"
    assert row.seen.startswith("1 of 10 in the earlier half, 9 of 10 in the later: +80 percentage points (+")
    voids = [cast(shot, verdict=GOOD, defects=(VOID,) if shot > 10 else ()) for shot in range(1, 21)]
    assert not trend(voids, Sort.WORN).claimed


def test_fewer_than_eight_give_no_trend_and_say_so():
    few = weighed(RISING[: LEAST - 1])
    one = trend(few, Sort.MASS)
    assert (one.n, one.drift, one.claimed) == (7, None, False)
    assert said(wear(few))[2].means == "too few for a trend"
    assert summary(wear(few)) == "Too little is known of its wear: 8 judged or weighed parts of one kind are needed."
    assert summary(wear([])).startswith("Too little")


def test_a_drift_of_the_mass_has_its_interval_and_is_called_small_when_it_is():
    found = trend(weighed(RISING), Sort.MASS)
    assert found.claimed
    assert found.drift.within.low < found.drift.per_shot < found.drift.within.high
    assert found.over_all == pytest.approx(9 * found.drift.per_shot / 100.6, rel=0.01)
    assert not found.small
    row = said(wear(weighed(RISING)))[2]
    assert row.what == "part mass (Foam, trimmed)"
    assert row.seen.startswith("+1.40 g in 10 shots (+0.80 to +2.00)")
    assert row.seen.endswith("in a cavity of 250 cm³ +0.0056 g/cm³")
    assert row.means.startswith("a drift: +1.3 % over all its shots (p")
    assert summary(wear(weighed(RISING))).startswith("The mass of its parts drifts.")
    small = wear(weighed([mass + 900 for mass in RISING]))
    assert small.trends[2].claimed
    assert small.trends[2].small
    assert said(small)[2].means.startswith("a drift, and a small one: +0.1 %")
    assert summary(small).startswith("Nothing seen so far")


def test_masses_are_compared_within_one_material_and_one_way_of_trimming_alone():
    foam = weighed(RISING)
    other = [cast(shot, part_g=300.0, trimmed=True, material="rubber") for shot in range(20, 26)]
    rough = [cast(shot, part_g=130.0, trimmed=False) for shot in range(30, 36)]
    alone, mixed = trend(foam, Sort.MASS), trend([*other, *foam, *rough], Sort.MASS)
    assert mixed == alone
    assert wear([*foam[:8], *weighed(RISING[8:], material="")]).cavity_cm3 == 250.0


def test_masses_that_are_all_alike_have_no_drift():
    one = trend(weighed([100.0] * 12), Sort.MASS)
    assert (one.drift.per_shot, one.claimed) == (0.0, False)


def test_a_mold_that_does_not_wear_is_seldom_accused():
    """Of 400 molds of 24 shots without wear 16 were (4.0 %); 5 % are promised, for the three looks together."""
    lots = random.Random(20_261)
    accused = 0
    for _ in range(400):
        shots = [
            cast(
                shot,
                verdict=SCRAP if lots.random() < 0.25 else GOOD,
                defects=(FLASH,) if lots.random() < 0.25 else (),
                part_g=lots.gauss(100, 1),
                trimmed=True,
            )
            for shot in range(1, 25)
        ]
        accused += any(one.claimed for one in wear(shots).trends)
    assert accused <= 0.05 * 400
