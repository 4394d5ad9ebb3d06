"""Trials: what is dealt out, what is refused, what they can find, and what is said of half-finished ones."""

from collections import Counter

import pytest

from station.core.judging_events import DefectKind, HardnessScale
from station.errors import Refused, WrongField
from station.insight.asked import Question
from station.insight.facts import Hardness
from station.insight.trials.design import Setting, designed
from station.insight.trials.evaluation import evaluated, evaluated_shares
from station.insight.trials.power import noticed, power_of_means
from station.insight.trials.response import Measured, failed, key_of, measured, response_of
from tests.insight.made import GOOD, SCRAP, cast

MIX = Setting("mix time", ("60 s", "95 s"))
LOT = Setting("lot of A", ("wf-a1", "wf-a2"))
VENT = Setting("vents", ("two", "four"))


def test_every_combination_stands_once_in_each_block():
    design = designed((MIX, LOT), 3, 41)
    assert [run.run for run in design.runs] == list(range(1, 13))
    assert Counter((run.block, run.levels) for run in design.runs) == Counter(
        (block, (a, b)) for block in (1, 2, 3) for a in (0, 1) for b in (0, 1)
    )
    assert design.words(design.runs[0]) == tuple(
        setting.levels[at] for setting, at in zip((MIX, LOT), design.runs[0].levels, strict=True)
    )


def test_a_seed_deals_the_same_and_lots_favour_no_order():
    assert designed((MIX,), 4, 5) == designed((MIX,), 4, 5)
    first = Counter(designed((MIX, LOT), 1, seed).runs[0].levels for seed in range(400))
    assert len(first) == 4
    assert all(70 <= count <= 130 for count in first.values())  # 100 expected, four spreads to either side: 65 to 135


def test_a_half_takes_four_of_eight_and_keeps_each_factor_even():
    design = designed((MIX, LOT, VENT), 2, 9, half=True)
    assert len(design.runs) == 8
    for at in range(3):
        assert Counter(run.levels[at] for run in design.runs) == {0: 4, 1: 4}
    signs = {tuple(2 * level - 1 for level in run.levels) for run in design.runs}
    assert all(a * b * c == 1 for a, b, c in signs)  # the defining relation I = ABC, NIST/SEMATECH 5.3.3.4.2


@pytest.mark.parametrize(
    ("settings", "blocks", "half", "said"),
    [
        ((), 2, False, "one to three"),
        ((MIX, MIX), 2, False, "a name of its own"),
        ((Setting("mix time", ("60 s",)),), 2, False, "two to 4 different"),
        ((MIX, Setting("vents", ("1", "2", "3"))), 2, False, "two to 2 different"),
        ((Setting("mix time", ("60 s", "60 S ")),), 2, False, "different settings"),
        ((MIX,), 0, False, "at least one block"),
        ((MIX,), 17, False, "34 casts"),
        ((MIX, LOT), 2, True, "Only of three"),
    ],
)
def test_what_is_no_trial_is_refused_with_its_field(settings, blocks, half, said):
    with pytest.raises(WrongField, match=said):
        designed(settings, blocks, 1, half=half)


def test_what_a_trial_can_find_is_said_beforehand():
    design = designed((MIX,), 4, 1)  # 8 casts, 4 a side, mean and four blocks: 3 degrees of freedom
    apart = noticed(design, 1)
    assert power_of_means(apart, 4, 3) == pytest.approx(0.8)
    assert noticed(designed((MIX,), 1, 1), 1) is None
    assert noticed(designed((MIX,), 12, 1), 1) < apart
    assert noticed(designed((Setting("mix time", ("60 s", "80 s", "95 s")),), 4, 1), 2) > noticed(
        designed((MIX,), 8, 1), 1
    )


def test_a_difference_between_days_does_not_hide_an_effect():
    design = designed((MIX,), 4, 3)
    small = {run.run: 0.1 * (-1) ** run.block * (2 * run.levels[0] - 1) for run in design.runs}
    values = {run.run: 100.0 * run.block + 3.0 * run.levels[0] + small[run.run] for run in design.runs}
    effect = evaluated(design, values).effects[0]
    assert effect.low < 3.0 < effect.high
    assert effect.low > 2.0
    assert effect.by_lots == pytest.approx(2 / 16)  # four blocks of two can say no more


def test_half_finished_trials_say_what_lacks():
    design = designed((MIX,), 3, 3)
    with pytest.raises(Refused, match="1 of 6 casts"):
        evaluated(design, {1: 5.0})
    with pytest.raises(Refused, match="No cast with"):
        evaluated_shares(design, {1: True})
    without = designed((MIX, LOT), 1, 3)
    found = evaluated(without, {run.run: float(run.levels[0]) for run in without.runs})
    assert found.s is None
    assert next((one.factors, one.value, one.low) for one in found.effects) == (("mix time",), 1.0, None)


def test_a_lost_cast_leaves_the_lots_silent_but_not_the_fit():
    design = designed((MIX,), 5, 3)
    values = {run.run: run.levels[0] + 0.1 * (run.run % 3) for run in design.runs if run.run != 4}
    effect = evaluated(design, values).effects[0]
    assert effect.by_lots is None
    assert effect.low is not None


def test_what_a_trial_looks_at_is_read_from_the_casts():
    read = (Hardness(HardnessScale.SHORE_A, 20.0, "heel"), Hardness(HardnessScale.SHORE_A, 24.0, "toe"))
    casts = [
        cast(1, density_g_cm3=0.12, part_g=60.0, hardness=read, verdict=GOOD),
        cast(2, hardness=(Hardness(HardnessScale.SHORE_00, 70.0, ""),), shrinkage=0.01, verdict=SCRAP),
        cast(3, hardness=read[:1]),
    ]
    assert measured(casts, Measured.DENSITY) == {1: pytest.approx(120.0)}
    assert measured(casts, Measured.PART) == {1: 60.0}
    assert measured(casts, Measured.SHRINKAGE) == {2: pytest.approx(1.0)}
    assert measured(casts, Measured.HARDNESS) == {1: 22.0, 3: 20.0}  # never two scales together
    assert failed(casts, Question()) == {1: False, 2: True}
    for response in (Measured.DENSITY, Question(), Question(DefectKind.VOID)):
        assert response_of(key_of(response)) == response
    assert response_of("nothing") is None
