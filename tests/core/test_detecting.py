"""Contacts, cups, hands, bumps, rest and drops told apart on simulated scales: few seeded scenes, thousands with soak.

The goals are the project's own; scales and hands are simulated (`tests/benchmarks/detecting`), their figures assumed.
"""

import numpy as np
import pytest

from tests.benchmarks.detecting import contacts, cups, drops, rests
from tests.benchmarks.detecting.filters import QUICK

FEW, MANY = 6, 400


def told(error_s, within_s=0.3):
    return np.mean(np.abs(error_s) <= within_s)


@pytest.mark.parametrize("kind", QUICK[1:3], ids=lambda kind: kind.title)
def test_first_contact_is_dated_and_neither_bump_nor_touch_is_one(kind):
    found = contacts.measure(kind, FEW, 3)
    assert told(found.error_s) == 1.0
    assert found.bumps + found.touches == 3 * FEW
    assert found.false_bumps == found.false_touches == 0


@pytest.mark.parametrize("kind", QUICK[2:4], ids=lambda kind: kind.title)
def test_cups_are_tared_and_seen_to_leave_and_no_lean_is_either(kind):
    put, off = cups.placing(kind, FEW, 3), cups.lifting(kind, FEW, 3)
    assert (put.found, put.near, put.false_cups) == (FEW, FEW, 0)
    assert (off.found, off.false_lifts, off.false_contacts) == (FEW, 0, 0)
    assert cups.of_an_empty_cup(kind, FEW, 3) == 0


@pytest.mark.parametrize("kind", QUICK[:2], ids=lambda kind: kind.title)
def test_single_drops_after_the_accept_are_weighed_again(kind):
    found = drops.measure(kind, FEW, 3)
    assert (found.above, found.seen, found.false) == (FEW // 2, FEW // 2, 0)


@pytest.mark.parametrize("kind", QUICK[3:], ids=lambda kind: kind.title)
def test_rest_is_found_soon_and_its_verdict_holds(kind):
    found = rests.measure(kind, 40, 3, (rests.OURS,))[rests.OURS]
    assert found.never == 0
    assert found.wrong <= found.unhurried + 0.03
    assert 0 < np.median(found.waited_s) <= 2.5


def test_half_the_window_judges_sooner_and_worse():
    hasty = rests.Rule(0.25, 1.0, owed=False, drops=False)
    found = rests.measure(QUICK[3], 80, 3, (hasty, rests.OURS))
    assert np.median(found[hasty].waited_s) < np.median(found[rests.OURS].waited_s)
    assert found[hasty].wrong > found[rests.OURS].wrong


@pytest.mark.soak
@pytest.mark.parametrize("kind", QUICK, ids=lambda kind: kind.title)
def test_the_goals_are_kept_over_many_scenes(kind):
    found = contacts.measure(kind, MANY, 11)
    assert told(found.error_s[~np.isnan(found.error_s)]) >= 0.95
    assert found.false_bumps / found.bumps <= 0.005
    assert found.false_touches / found.touches <= 0.005
    put, off = cups.placing(kind, MANY, 12), cups.lifting(kind, MANY, 13)
    assert put.found / MANY >= 0.998
    assert put.near / put.found >= 0.99
    assert put.false_cups / MANY <= 0.003
    assert off.found / MANY >= 0.998
    assert max(off.false_lifts, cups.of_an_empty_cup(kind, MANY, 14)) / MANY <= 0.003
    assert off.false_contacts / MANY <= 0.005
    rested = rests.measure(kind, 3 * MANY, 16, (rests.OURS,))[rests.OURS]
    assert rested.wrong <= 0.01
    assert np.median(rested.waited_s) <= 2.5
    dripped = drops.measure(kind, MANY, 15)
    assert dripped.seen / dripped.above >= 0.8
    assert dripped.false / dripped.without <= 0.02
