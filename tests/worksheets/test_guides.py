"""Every number of the worked plans is recomputed: by its own arithmetic, and by the worksheet it belongs to."""

import math
import re

import pytest

from station.worksheets.catalogue import worksheet
from station.worksheets.filling import worked
from station.worksheets.guides import GUIDES, guide

STEPS = [(one.key, step) for one in GUIDES for step in one.steps]
LINES = [(key, step, line) for key, step in STEPS for line in step.lines]


def number(result: str) -> tuple[float, float]:
    """A result as printed, and half a step of its last digit."""
    text = re.match(r"[\d.]+", result)[0]
    return float(text), 0.5 * 10.0 ** -len(text.partition(".")[2])


@pytest.mark.parametrize(("key", "step", "line"), LINES, ids=[f"{k}: {s.title}: {line.what}" for k, s, line in LINES])
def test_a_number_is_what_its_arithmetic_and_its_worksheet_give(key, step, line):
    printed, half = number(line.result)
    by_hand = eval(line.sum.replace("×", "*").replace("÷", "/"), {"exp": math.exp, "log": math.log})
    assert abs(by_hand - printed) <= half * 1.2 + 1e-9 * printed
    figure = worked(worksheet(step.sheet), step.typed).figures
    for part in line.figure.split("."):
        figure = figure[part]
    assert abs(figure - printed) <= half * 1.2 + 1e-9 * printed


@pytest.mark.parametrize(("key", "step"), STEPS, ids=[f"{k}: {s.title}" for k, s in STEPS])
def test_a_step_works_without_a_warning(key, step):
    assert worked(worksheet(step.sheet), step.typed).warnings == ()


def test_there_are_three_and_each_says_where_it_comes_from():
    assert len(GUIDES) == 3
    assert guide("footbed").title.startswith("A silicone mold")
    assert all(len(one.steps) >= 4 for one in GUIDES)
