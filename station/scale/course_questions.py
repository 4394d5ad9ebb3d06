"""What a scale check must know of a person: weight, type plate, patience; asked until it makes sense. Pure."""

from __future__ import annotations

import re
from collections.abc import Generator

from station.errors import Refused
from station.metrology.classes import AccuracyClass
from station.metrology.readings import Plate
from station.metrology.weights import Certified, CheckWeight, OfClass, weight_class
from station.quantities import mass
from station.scale.course_wishes import AskText, CourseAnswer, CourseWish
from station.scale.finding.wishes import Tell
from station.texts import t


def weight() -> Generator[CourseWish, CourseAnswer, CheckWeight]:
    """The check weight: what is written on it, and how well that is known."""
    while True:
        nominal = yield AskText(t("What does the check weight weigh, as written on it? (as in 500 g)"))
        known = yield AskText(
            t(
                "Its class (E2, F1, F2, M1, M2 or M3), or the value on its certificate with its uncertainty "
                "(500.012 g ± 0.004 g)?"
            )
        )
        try:
            return _check_weight(_text(nominal), _text(known))
        except ValueError as wrong:
            yield Tell(str(wrong))
        except Refused as wrong:
            yield Tell(wrong.sentence())


def _check_weight(nominal: str, known: str) -> CheckWeight:
    grams = mass(nominal).g
    if "±" in known or "+-" in known:
        value, _, expanded = known.replace("+-", "±").partition("±")
        return CheckWeight(grams, Certified(mass(value.strip()).g, mass(expanded.strip()).g))
    return CheckWeight(grams, OfClass(weight_class(known)))


def plate() -> Generator[CourseWish, CourseAnswer, Plate | None]:
    """What the type plate says; None where there is none."""
    while True:
        answer = _text(
            (yield AskText(t("Class and e on the type plate (as in III 1 g)? Nothing, where there is none.")))
        )
        if not answer:
            return None
        found = re.fullmatch(r"(I{1,4}) +e? *=? *(.+)", answer.strip().upper().replace("E =", ""))
        try:
            if found is None:
                raise ValueError(
                    t("{answer} is no class and e. Write for example III 1 g, or nothing.", answer=repr(answer))
                )
            return Plate(AccuracyClass(found[1]), mass(found[2].lower()).g)
        except ValueError as wrong:
            yield Tell(str(wrong))


def minutes() -> Generator[CourseWish, CourseAnswer, float]:
    """For how many minutes the drift is watched; 0 leaves it out."""
    while True:
        answer = _text(
            (yield AskText(t("For how many minutes may the drift be watched (10 is good, 0 leaves it out)?")))
        )
        if re.fullmatch(r"[0-9]{1,3}([.,][0-9])?", answer) and float(answer.replace(",", ".")) <= 120:
            return float(answer.replace(",", "."))
        yield Tell(t("{answer} is no number of minutes from 0 to 120.", answer=repr(answer)))


def _text(answer: CourseAnswer) -> str:
    return answer.strip() if isinstance(answer, str) else ""
