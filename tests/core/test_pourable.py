"""Amounts that pouring cannot hit are told in the plan and at the bench, with what to do instead."""

import math
import re
from dataclasses import replace

import pytest

from station.core.guidance.learned import Lesson
from station.core.guidance.task import Task
from station.core.known_pours import card_source, known, learned_from
from station.core.mass import Mass
from station.core.material import Cup
from station.core.plan_checks import Finding, checks_of
from station.core.planning import planned
from station.core.pourable import DROP_G, Dose, finest_g, small_doses
from station.core.standing import Standing
from station.core.steps import Weigh
from station.core.views import snapshot
from tests.play import CARD, GRIP, PAD, PLACE, SILICONE, Play

FINE = replace(CARD, readability=Mass(10))


def told(grams, place=PLACE, standing=None):
    """What the plan of so much 10:1 silicone says of pouring; B is to be within ± 2 %."""
    plan = planned(SILICONE, PAD, Mass.grams(grams), place=place, standing=standing or Standing())
    said = [words for words in plan.warnings if "Finer than a pour" in words]
    assert all(check.finding is Finding.LOOK for check in checks_of(plan) if check.words in said)
    assert len(said) <= 1
    return said[0] if said else ""


def pours(came_g, flow_g_s=0.25):
    """Lessons of B: what came after each first stop at that flow."""
    source = card_source(SILICONE.key, "B", CARD)
    return tuple(learned_from(source, Mass.grams(5), Lesson(flow_g_s, came, False, 1.0)) for came in came_g)


def shown(play):
    view = snapshot(play.bench, play.now, 1, CARD).bench
    assert view is not None
    return view


def test_a_dose_of_five_grams_is_warned_of_and_the_batch_that_is_proposed_is_not():
    words = told("55")
    assert "5.0 g of B" in words
    assert "pipette or syringe" in words
    least = int(re.search(r"Mix (\d+) g or more", words)[1])
    assert told(str(least)) == ""
    assert told(str(math.floor(least * 0.97))) != ""


def test_five_grams_within_one_percent_are_beyond_any_usual_hand_and_sixty_are_not():
    """Scatter by hand for a scale of d 0.01 g and lag 0.3 s, from the figures in the module: all in grams."""
    drop, step, hand = 0.03, 0.4 * 0.01, 0.6 * (5 / 60) ** 0.35 * (0.04 + 0.12 * 0.8)
    assert finest_g(5, FINE) == pytest.approx(2.5 * math.sqrt(drop**2 + step**2 + hand**2))
    assert finest_g(5, FINE) > 0.05
    assert finest_g(62.4, CARD) < 0.624


def test_where_the_larger_batch_does_not_fit_only_the_pipette_is_proposed():
    words = told("55", replace(PLACE, cup=Cup(Mass.grams(60))))
    assert words.endswith("Give the last of it with a pipette or syringe.")
    assert "Mix" not in words


def test_a_hand_that_is_known_counts_from_its_third_pour():
    steady, wild = (0.21, 0.22, 0.2, 0.21, 0.22, 0.2) * 3, (0.1, 0.5, 0.2, 0.6, 0.1, 0.5) * 3
    assert told("55", standing=Standing(pours=pours(steady[:2]))) == told("55")
    assert told("83", standing=Standing(pours=pours(steady))) == ""
    assert told("83") != ""
    assert told("110") == ""
    assert told("110", standing=Standing(pours=pours(wild, 0.8))) != ""


def test_no_window_is_narrower_than_a_drop_however_steady_the_hand():
    task = Task(5, 5, 5, 0.001, 0.1)
    still = known(pours((0.2,) * 20, 0.01), card_source(SILICONE.key, "B", CARD), task)
    assert finest_g(5, replace(FINE, readability=Mass(1)), still) >= DROP_G / 2


def test_a_dose_that_rounds_to_nothing_is_left_to_what_the_scale_says():
    assert small_doses((Dose("B", Mass(0), 2.0),), 1.0, CARD) == ()


def test_at_the_bench_it_is_said_before_the_pour_and_not_once_the_cup_is_full_enough():
    play = Play()
    play.begin(SILICONE, "55", GRIP)
    play.put("24.3")
    assert "pipette" not in shown(play).words
    play.pour(play.step.target)
    play.press()
    assert isinstance(play.step, Weigh)
    play.stand(1)
    assert "pipette or syringe" in shown(play).words
    play.load = play.load + play.step.target
    play.stand(0.3)
    assert "pipette" not in shown(play).words
