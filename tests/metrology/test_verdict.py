"""The verdict of a scale check in words a caster understands."""

from datetime import date

import pytest

from station.metrology.classes import AccuracyClass
from station.metrology.readings import Corners, DriftSeries, Placements, Plate, Stream, WeightReading, ZeroReturns
from station.metrology.reason import Verdict
from station.metrology.verdict import NOT_FOR_TRADE, checked
from station.metrology.weights import Certified, CheckWeight, WeightClass
from tests.metrology.bench import readings, weight

ON = date(2026, 3, 15)


def judged(**changes):
    result = checked(readings(**changes), ON)
    return result.verdict, " ".join(reason.words for reason in result.reasons)


def test_a_scale_in_order_is_fit_and_says_its_smallest_part():
    result = checked(readings(), ON, 6)
    assert result.verdict is Verdict.FIT
    assert all(reason.allows is Verdict.FIT for reason in result.reasons)
    words = [reason.words for reason in result.reasons]
    # By hand: 2 x 0.041 g / (1 % - 0.005 %), a hair more for sensitivity and place: just above 8.24 g.
    assert words[0] == "A part held to ± 1 % needs at least 8.3 g on this scale."
    assert words[-1] == "Wait 2.4 s for the display to rest before you read it."
    assert result.due == date(2026, 9, 15)
    assert result.note == NOT_FOR_TRADE
    assert "not a verification for trade" in result.note
    assert result.promise is result.figures.promise


E_1 = {"readability_g": 1.0, "stream": None, "plate": Plate(AccuracyClass.III, 1), "corners": None, "weights": ()}

CASES = {
    "reads far too much": (
        {"weights": (WeightReading(weight(), (203.0,)),)},
        Verdict.NOT_FIT,
        [
            "With 200 g on it reads 3.00 g too much",
            "beyond the limit of a third of the wanted tolerance, 0.667 g. Adjust it",
            "cannot be shown to hold ± 1 % at any mass up to 3000.0 g",
            "off by 1.5 % alone",
        ],
    ),
    "reads too little for its class": (
        E_1 | {"weights": (WeightReading(weight(1000), (997.0,)),)},
        Verdict.NOT_FIT,
        ["With 1000 g on it reads 3.0 g too little", "beyond the limit of its class in service, 2 g"],
    ),
    "near the limit": (
        {"weights": (WeightReading(weight(), (200.6,)),)},
        Verdict.FIT_WITH_LIMITS,
        ["0.60 g too much", "so near to the limit of a third of the wanted tolerance, 0.667 g"],
    ),
    "a check weight too light to prove anything": (
        {"weights": (WeightReading(weight(5), (5.0,)),)},
        Verdict.NOT_FIT,
        ["reads right", "Its sensitivity is only known to ± 1.6 %. Check with a heavier weight"],
    ),
    "a check weight of too coarse a class": (
        {"wanted_percent": 0.2, "weights": (WeightReading(weight(500, WeightClass.M3), (500.0,)),)},
        Verdict.FIT_WITH_LIMITS,
        [
            "500 g check weight may itself be off by 0.25 g",
            "a third of the limit, 0.11 g. Use one of class M2 or better",
        ],
    ),
    "a certificate that says too little": (
        {"weights": (WeightReading(CheckWeight(500, Certified(500.0, 0.8)), (500.0,)),)},
        Verdict.FIT_WITH_LIMITS,
        ["may itself be off by 0.8 g", "Use one that is known better."],
    ),
    "no check weight": (
        {"weights": ()},
        Verdict.FIT_WITH_LIMITS,
        ["ratios hold", "how many grams a gram is remains unproven"],
    ),
    "parts smaller than it can hold": (
        {"smallest_part_g": 5},
        Verdict.FIT_WITH_LIMITS,
        ["needs at least 8.3 g", "Your smallest part, 5 g, is held to ± 1.6 % only: plan larger batches"],
    ),
    "parts large enough": ({"smallest_part_g": 9}, Verdict.FIT, ["needs at least 8.3 g"]),
    "zero off by one step": (
        {"zero_returns": ZeroReturns((0.0, -0.1, 0.0))},
        Verdict.FIT_WITH_LIMITS,
        ["The empty pan came back to -0.1 g: set zero before each part."],
    ),
    "zero far off": (
        {"zero_returns": ZeroReturns((0.0, 0.4))},
        Verdict.NOT_FIT,
        ["came back to 0.4 g; 0.1 g would do", "touches the pan"],
    ),
    "few placements": ({"placements": Placements((200.0,) * 5)}, Verdict.FIT, ["Only 5 placements were read; 10 say"]),
    "scatter that the display alone does not explain": (
        {"placements": Placements((200.0, 200.4) * 5)},
        Verdict.FIT_WITH_LIMITS,
        ["needs at least 42.4 g", "The same load scatters by 0.21 g, more than one step of the display"],
    ),
    "scatter beyond the class": (
        E_1 | {"placements": Placements((200.0, 203.0, 200.0, 201.0, 200.0))},
        Verdict.NOT_FIT,
        ["The same load read from 200 g to 203 g; 1 g apart is the most in its class", "Below 20 g, its Min"],
    ),
    "scatter beyond a fine class": (
        {"plate": Plate(AccuracyClass.II, 0.1), "placements": Placements((200.0, 200.1, 200.0, 200.1, 200.0))},
        Verdict.NOT_FIT,
        ["The same load scatters by 0.055 g; 0.033 g is the most for a fine scale"],
    ),
    "a corner that pulls": (
        {"corners": Corners(1000, 1000.0, 1000.0, 1000.0, 996.0, 1000.0)},
        Verdict.FIT_WITH_LIMITS,
        ["Towards the left it reads 4.0 g less than in the middle: keep the cup in the middle"],
    ),
    "corners left out": ({"corners": None}, Verdict.FIT_WITH_LIMITS, ["corners were not tested"]),
    "a scale that wanders": (
        {"drift": DriftSeries(((0, 200.0), (300, 200.8), (600, 201.6)))},
        Verdict.FIT_WITH_LIMITS,
        ["It drifts 9.6 g an hour, 0.11 g during one weighing: let it warm up"],
    ),
    "drift left out": ({"drift": None}, Verdict.FIT_WITH_LIMITS, ["Drift was not watched"]),
    "another step than set": (
        {"stream": Stream(tuple(range(9)), tuple(f"{n}.5" for n in range(9)))},
        Verdict.FIT_WITH_LIMITS,
        ["The display counts in steps of 0.5 g, but 0.1 g is set."],
    ),
    "a display at rest": (
        {"stream": Stream((0, 1, 2), ("0.0",) * 3)},
        Verdict.FIT,
        ["The display moved too little to see its step."],
    ),
    "a tolerance that Max does not reach": (
        {"maximum_g": 2000.0, "weights": (), "placements": Placements((200.0, 219.0) * 5)},
        Verdict.NOT_FIT,
        ["cannot be shown to hold ± 1 % at any mass up to 2000.0 g"],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_scale_is_judged_with_its_reason(case):
    changes, verdict, sentences = CASES[case]
    found, words = judged(**changes)
    for sentence in sentences:
        assert sentence in words
    assert found is verdict


def test_every_sentence_ends_as_one():
    for changes, _, _ in CASES.values():
        for reason in checked(readings(**changes), ON).reasons:
            assert reason.words[0].isupper()
            assert reason.words.endswith(".")


def test_with_a_class_on_the_plate_both_bodies_of_rules_are_told_side_by_side():
    changed = E_1 | {"maximum_g": 6000.0, "weights": (WeightReading(weight(5000), (5000.0,)),)}
    _, words = judged(**changed)
    # At 5 000 divisions of class III: OIML R 76 3.5.2 twice 1.5 e in service; NIST Handbook 44 Table 6 5 d in use.
    assert "may be off by 3 g at 5000 g by OIML R 76, by 5 g by NIST Handbook 44" in words
