"""What the pages of learning are given, and what an address asks them for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from station.core.advice_events import AdviceAdopted
from station.core.judging_events import DefectKind
from station.core.learning_standing import Trial
from station.core.material import Material, Mold
from station.errors import WrongField
from station.insight.asked import Question
from station.insight.facts import CastFacts
from station.records import Known
from station.texts import t

LAST = 250
"""So many of the newest casts are compared."""
LONGEST = 100
"""More letters than this are cut off."""


class LearningBook(Protocol):
    """The record and the sheets, read only; called from many threads at once. Raises Fault when it cannot be read."""

    def facts(self, *, mold: str = "", material: str = "", last: int = LAST) -> Sequence[CastFacts]:
        """Of the poured casts asked for the newest `last`, the oldest of them first."""
        ...

    def known_molds(self) -> Sequence[Known]:
        """Every mold that was ever cast in."""
        ...

    def known_materials(self) -> Sequence[Known]:
        """Every material that was ever cast."""
        ...

    def materials(self) -> Sequence[Material]:
        """The material sheets."""
        ...

    def molds(self) -> Sequence[Mold]:
        """The mold sheets."""
        ...

    def adopted(self) -> Sequence[AdviceAdopted]:
        """Advice that plans use."""
        ...

    def trials(self) -> Sequence[Trial]:
        """Trials at hand, the oldest first."""
        ...

    def celsius(self) -> float | None:
        """The temperature at the bench now; None when nobody knows."""
        ...

    def known(self, material: Material, /) -> Sequence[str]:
        """What plans of this material use already without being asked, a sentence each."""
        ...


@dataclass(frozen=True, slots=True)
class Where:
    """Which casts an address asks for: keys of a mold and a material, "" for all."""

    mold: str
    material: str


def where(args: Mapping[str, str], newest: CastFacts | None) -> Where:
    """What the address says; where it names neither, the mold and material of the `newest` cast."""
    if newest is not None and "mold" not in args and "material" not in args:
        return Where(newest.mold, newest.material)
    return Where(_cut(args.get("mold", "")), _cut(args.get("material", "")))


def question(args: Mapping[str, str]) -> Question:
    """Good against bad, or one defect. Raises WrongField for a defect that is none."""
    typed = _cut(args.get("defect", ""))
    if not typed:
        return Question()
    if typed.upper() not in DefectKind.__members__:
        raise WrongField("defect", t("There is no such defect here."), t("Choose one of the list."))
    return Question(DefectKind[typed.upper()])


def cast_named(args: Mapping[str, str], field: str, facts: Sequence[CastFacts]) -> CastFacts | None:
    """The cast whose number was typed; None when none was. Raises WrongField when there is no such poured cast."""
    typed = _cut(args.get(field, "")).removeprefix("#")
    if not typed:
        return None
    number = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0
    found = next((one for one in facts if one.number == number), None)
    if found is None:
        raise WrongField(
            field,
            t("{typed} is no poured cast among the newest {last}.", typed=repr(typed[:20]), last=len(facts)),
            t("Its number stands on the part and in the log."),
        )
    return found


def _cut(typed: str) -> str:
    return " ".join(typed.split())[:LONGEST]
