"""What the page of advice is asked for: a material, a mold, a wanted density."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from station.casting.written import MayBeThousands, written
from station.core.material import Material, Mold
from station.errors import WrongField
from station.phone.learning_view import LearningBook
from station.texts import t

LONGEST = 60
LIGHTEST, HEAVIEST = 5.0, 3000.0
"""kg/m³: lighter than any foam, heavier than any filled rubber."""

_Sheet = TypeVar("_Sheet", Material, Mold)


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed: keys of sheets, and the wanted density in kg/m³, "" for what the casts say."""

    material: str
    mold: str
    density: str


def typed_of(args: Mapping[str, str], book: LearningBook) -> Typed:
    """What the address or the form says; without either the material and mold of the newest cast."""
    put = {name: " ".join(args.get(name, "").split())[:LONGEST] for name in ("material", "mold", "density")}
    if not put["material"] and not put["mold"]:
        newest = book.facts(last=1)
        if newest:
            put |= {"material": newest[-1].material, "mold": newest[-1].mold}
    return Typed(**put)


def density_of(typed: str) -> float | None:
    """The wanted density in g/cm³ from kg/m³ as typed; None when nothing is. Raises WrongField."""
    if not typed:
        return None
    try:
        found = written(typed)
    except MayBeThousands:
        found = None
    if found is None or found.rest or not LIGHTEST <= float(found.number) <= HEAVIEST:
        raise WrongField(
            "density",
            t("{typed} is no density from 5 to 3000 kg/m³.", typed=repr(typed[:20])),
            t("Write a number without its unit, such as 115."),
        )
    return float(found.number) / 1000


def sheet_of(sheets: Sequence[_Sheet], key: str) -> _Sheet | None:
    """The sheet of this key; None when there is none (any more)."""
    return next((sheet for sheet in sheets if sheet.key == key), None)
