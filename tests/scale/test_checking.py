"""The scale check from the first question to what is kept, on a scale that exists only in numbers."""

from __future__ import annotations

import random
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.errors import Refused
from station.metrology.reason import Verdict
from station.metrology.verdict import CheckResult
from station.scale.checking import course
from station.scale.checks import Checks, kept
from station.scale.course_wishes import AskText, CourseAnswer, Seen, Watch
from station.scale.finding.wishes import Tell

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000))
DAY = date(2026, 11, 25)
SPREAD_G = 0.08
GAIN = 1.0004


class BenchScale:
    """A scale with scatter, an error of its sensitivity and a corner that reads too much; ten readings a second."""

    def __init__(self, answers: dict[str, list[str]], seed: int = 1, lazy: bool = False) -> None:
        self.answers = answers
        self.rng = random.Random(seed)
        self.now_s = 0.0
        self.load = 0.0
        self.lazy = lazy
        self.told: list[str] = []
        self.placed: list[float] = []

    def told_to(self, words: str) -> None:
        self.told.append(words)
        if self.lazy:
            return
        if words.startswith("Put the weight"):
            corner = 0.3 if "left" in words else 0.0
            self.load = 500 * GAIN + self.rng.gauss(0, SPREAD_G) + corner
            self.placed.append(round(self.load, 1))
        elif words.startswith(("Take it off", "Empty")):
            self.load = 0.0

    def watched(self, seconds: float) -> tuple[Seen, ...]:
        seen = []
        for _ in range(round(seconds * 10)):
            self.now_s += 0.1
            shown = Decimal(str(round(self.load, 1)))
            seen.append(Seen(self.now_s, shown, str(shown)))
        return tuple(seen)

    def asked(self, question: str) -> str:
        for start, texts in self.answers.items():
            if question.startswith(start):
                return texts.pop(0) if len(texts) > 1 else texts[0]
        raise AssertionError(question)


def answers(**changed: list[str]) -> dict[str, list[str]]:
    usual = {"weight": ["500 g"], "known": ["M1"], "plate": [""], "minutes": ["2"]} | changed
    starts = {"weight": "What does", "known": "Its class", "plate": "Class and e", "minutes": "For how many"}
    return {starts[key]: value for key, value in usual.items()}


def checked_with(scale: BenchScale, **how: int) -> CheckResult:
    going = course(CARD, DAY, **how)  # type: ignore[arg-type]
    answer: CourseAnswer = None
    while True:
        try:
            wish = going.send(answer)
        except StopIteration as end:
            result: CheckResult = end.value
            return result
        match wish:
            case Tell():
                scale.told_to(wish.words)
                answer = None
            case Watch():
                answer = scale.watched(wish.seconds)
            case AskText():
                answer = scale.asked(wish.question)


def test_a_check_finds_the_scatter_the_error_and_the_corner_that_the_scale_has() -> None:
    scale = BenchScale(answers())
    result = checked_with(scale)
    ten = scale.placed[:10]
    mean = sum(ten) / 10
    s = (sum((value - mean) ** 2 for value in ten) / 9) ** 0.5  # sample standard deviation, n - 1
    figures = result.figures
    assert figures.repeatability_g == pytest.approx(s, abs=1e-9)
    assert figures.weights[0].error_g == pytest.approx(mean - 500, abs=0.05)
    assert figures.corner_spread_g is not None
    assert 0.1 <= figures.corner_spread_g <= 0.6
    assert figures.drift_g_per_h == pytest.approx(0, abs=0.5)
    assert result.promise.repeatability_g == figures.repeatability_g
    assert result.verdict in Verdict
    assert "not a verification for trade" in result.note
    assert result.due == date(2027, 11, 25)


def test_nonsense_answers_are_said_and_asked_again() -> None:
    scale = BenchScale(
        answers(
            weight=["five", "500 g"],
            known=["Z9", "500.02 g ± 0.01 g"],
            plate=["third class", "III 1 g"],
            minutes=["soon", "0"],
        )
    )
    result = checked_with(scale, placements=5)
    said = " ".join(scale.told)
    assert "'five'" in said
    assert "'third class'" in said
    assert "'soon' is no number of minutes" in said
    assert result.figures.drift_g_per_h is None
    assert result.figures.weights[0].weight.value_g == pytest.approx(500.02)


def test_a_person_who_does_nothing_ends_the_check_in_a_sentence() -> None:
    with pytest.raises(Refused, match="near the weight"):
        checked_with(BenchScale(answers(), lazy=True))


def test_checks_are_kept_newest_first_and_a_torn_line_costs_only_itself(tmp_path: Path) -> None:
    checks = Checks(tmp_path)
    assert checks.all() == ()
    one = kept(checked_with(BenchScale(answers())), "/dev/scale", 21.5)
    checks.append(one)
    (tmp_path / "scale-checks.jsonl").open("a").write('{"on": "2026-1')
    two = kept(checked_with(BenchScale(answers(), seed=2)), "/dev/other", None)
    checks.append(two)
    assert checks.all() == (two, one)
    assert checks.newest("/dev/scale") == one
    assert checks.newest("/dev/nothing") is None


@pytest.mark.parametrize("seed", range(20))
def test_the_promise_covers_the_errors_that_the_scale_makes(seed: int) -> None:
    """At 500 g the error found and its k = 2 uncertainty hold the true error of sensitivity (0.2 g here)."""
    finding = checked_with(BenchScale(answers(minutes=["0"]), seed=seed)).figures.weights[0]
    assert abs(finding.error_g - 500 * (GAIN - 1)) <= 1.5 * finding.expanded_g
