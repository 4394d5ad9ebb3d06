"""The parts that reckon say every sentence through the catalogue: found by the syntax tree, spoken by each of them."""

import ast
import re
from datetime import date
from pathlib import Path

import pytest

from station.casting.box_pours import margin_sentence, pours, stock_sentence, warnings
from station.casting.chemistry import Chemistry
from station.casting.foam import if_multiplied, shot
from station.casting.foam_practice import FoamSort, warnings_of
from station.casting.kinetics import Kinetics, Unknown
from station.casting.loss import allowance, emptied
from station.casting.moisture import chemistry_caution, surface, surface_caution
from station.casting.moldbox import Plan, Walls
from station.casting.positive import Leak, Positive, Unit, from_file_units, mirrored, scaled
from station.casting.positive_said import area, leak, notes, question, volume
from station.casting.positive_said import warnings as of_positive
from station.casting.potlife import of_mass
from station.casting.project import checklist
from station.casting.stock import Container
from station.casting.stock import warnings as of_container
from station.metrology.verdict import checked
from tests.metrology.bench import readings
from tests.metrology.test_verdict import CASES
from tests.words.gathered import ROOT
from tests.words.speaking import Marked, spoken
from tests.words.unsaid import unsaid

PARTS = (
    *("casting", "metrology", "core", "quantities.py", "reading.py", "asked_plan.py", "sheet_tables.py"),
    "sheet_materials.py",
)
SAYING = {"t", "tn", "tc", "N_"}
UNHEARD = {"AssertionError"}
"""What is raised to nobody but programmers."""
NO_SENTENCES = {"unit_names.py", "units.py", "written.py"}
"""Spellings of units and a regular expression: words of people, not ours."""
FOR_PROGRAMMERS = {
    "a lane is a digit from 1 to 9",
    "a moment's wall time must be an aware datetime in UTC",
    "a wall time that was set by hand is a trusted one",
    "quiet hours must begin and end at two different minutes of a day",
    "every entry's boot is noted before",
}
NO_WORDS_OF_OURS = {"not said", "fl oz", "III L", "mg KOH/g", "cast {} {} {}", "lot {}"}
"""Keys, names of units and classes."""


def sentences(source: str) -> list[str]:
    """Strings of two words or more that no saying call holds, but docstrings and what is raised to programmers."""
    found: list[str] = []

    def look(node: ast.AST) -> None:
        match node:
            case ast.Expr(value=ast.Constant()):
                return
            case ast.Call(func=ast.Name(id=name)) if name in SAYING | UNHEARD:
                return
            case ast.JoinedStr(values=parts):
                told = "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in parts)
                found.append(told)
                return
            case ast.Constant(value=str(told)):
                found.append(told)
                return
        for each in ast.iter_child_nodes(node):
            look(each)

    look(ast.parse(source))
    return [told for told in found if re.search(r"[^\W\d_]{2,}\W* \W*[^\W\d_]{2,}", told)]


def sources() -> list[Path]:
    files = [ROOT / "station" / part for part in PARTS]
    inside = [file for one in files for file in (sorted(one.rglob("*.py")) if one.is_dir() else [one])]
    return [file for file in inside if file.name not in NO_SENTENCES]


def test_no_sentence_of_these_parts_goes_past_the_catalogue():
    found = {told for file in sources() for told in sentences(file.read_text("utf-8"))}
    assert found - FOR_PROGRAMMERS - NO_WORDS_OF_OURS == set()


def test_a_sentence_that_goes_past_the_catalogue_is_found():
    spoilt = 'def f(x):\n    """Says it."""\n    raise Refused(t("Not {x}.", x=x), f"Type {x} again.")\n'
    assert sentences(spoilt) == ["Type {} again."]
    assert sentences('WORD = N_("two words")\nOTHER = {"two words": 1}\n') == ["two words"]


def left_unsaid(said: list[str], *known: str) -> list[str]:
    assert len(said) > 0
    return [told for told in said if told and unsaid(f"<p>{told}</p>", list(known))]


@pytest.fixture(autouse=True)
def _marked():
    with spoken(Marked()):
        yield


@pytest.mark.parametrize("case", CASES)
def test_every_reason_of_a_scale_check_is_said(case):
    changes, _, _ = CASES[case]
    result = checked(readings(**changes), date(2026, 3, 15))
    assert left_unsaid([*(reason.words for reason in result.reasons), result.note]) == []


def test_what_is_reckoned_of_boxes_foams_and_air_is_said():
    box = Plan((120.0, 80.0, 30.0), 200.0, Walls(2.0, 3.0, 4.0))
    poured = pours(1300, cup_holds_g=500, scale_most_g=620, cup_g=20)
    short, packed = shot(100, 0.1, packing=0.8, loss_percent=5), shot(100, 0.1, packing=3, loss_percent=5)
    cold = Kinetics(23, coldest_c=15, warmest_c=30).rate(10)
    assert isinstance(cold, Unknown)
    said = [
        *poured.reasons,
        *(margin_sentence(margin, count) for margin in (0, 20) for count in (1, 3)),
        *(stock_sentence(500, stock, 200) for stock in (600, 300, 100)),
        *warnings(box, undercut=30, hardness=30),
        *warnings_of(short, FoamSort.RIGID, minimum_fill_g=9),
        *warnings_of(packed, FoamSort.FLEXIBLE, low=1.1, high=1.4),
        if_multiplied(100, 1.05, 10),
        cold.why,
        *(allowance(1000, seen).source for seen in ((), (emptied(1000, 500, 10),), (emptied(200, 100, 3),))),
        *(surface_caution(surface(name, c, 22, 60)) for name in ("mold", "material") for c in (8, 15)),
        *(chemistry_caution(chemistry, percent) for chemistry in Chemistry for percent in (20, 62, 80)),
        *(of_mass(grams, 600, 100, ((100, 600), (500, 300))).words for grams in (50, 200, 900)),
        of_mass(200, 600, None, ()).words,
        *checklist(isocyanate=True, silicone=True),
    ]
    assert len([told for told in said if told]) > 40
    assert left_unsaid(said) == []


def test_what_is_known_of_a_positive_is_said():
    part = Positive(
        *((20.0, 10.0, 5.0), None, 300.0, 1200, 2, False, False, Unit.MM, "", False, 1, True, 1),
        leaks=(Leak((3.0, -2.0, 1.0), 4.0, 5), Leak((-3.0, 2.0, -1.0), 4.0, 1)),
        leaking=2,
        open_edges=6,
    )
    read = [from_file_units(part, stated) for stated in (None, 1.0)]
    shown = mirrored(scaled(read[0], (1.05, 1.0, 1.02)))
    said = [
        *(each.unit_why for each in read),
        *(question(shown), volume(shown), area(shown)),
        *(*of_positive(shown), *notes(shown)),
        *(leak(one) for one in shown.leaks),
    ]
    assert len(said) == 15
    assert left_unsaid(said) == []


def test_what_is_wrong_with_a_container_is_said():
    old = Container("B", "0815", 20.0, date(2026, 1, 2), date(2026, 2, 1), isocyanate=True, opened_life_d=90)
    fresh = Container("A", "4711", best_before=date(2026, 3, 20))
    today = date(2026, 3, 15)
    said = [*of_container(old, today), *of_container(old, today, 50), *of_container(fresh, today, 50)]
    assert len(said) == 8
    assert left_unsaid(said, "0815", "4711") == []
