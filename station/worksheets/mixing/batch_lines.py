"""Typed lines of a batch: "pigment 3 % of B" for an additive, "A 640 g" for what is left of a component."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from station.casting.ratio import Of, additive_shares
from station.core.material import TOTAL, Material
from station.errors import Refused
from station.quantities import grams
from station.worksheets.mixing.mixes import NAMES

ALL, WHOLE = "all", "whole mix"
_OF = {ALL: Of.COMPONENTS, "all components": Of.COMPONENTS, WHOLE: Of.WHOLE, "the whole mix": Of.WHOLE}
_ADDITIVE = re.compile(
    r"(?P<name>.+?) ?:? (?P<amount>\d+(?:[.,]\d+)?) ?(?P<per>%|parts per hundred)(?: (?:of )?(?P<of>.+))?",
    re.IGNORECASE,
)
ACCEPTED = (
    f'Write "pigment 3 % of B", "thinner 5 % of {ALL}" (all components together: parts per hundred), or "filler 10 % '
    f'of {WHOLE}" (the additive counted in).'
)


def additives(lines: Sequence[str], shares: Mapping[str, float]) -> dict[str, float]:
    """Mass of each additive per gram of all components. Raises Refused for a line that cannot be read."""
    named: list[str] = []
    counted: list[tuple[float, Of, float]] = []
    for line in lines:
        found = _ADDITIVE.fullmatch(" ".join(line.split()))
        if found is None:
            raise Refused(f"{line!r} is not an additive.", ACCEPTED)
        name, amount = found["name"], float(found["amount"].replace(",", "."))
        of = found["of"] or (ALL if found["per"] != "%" else "")
        component = of.upper()
        if component not in shares and of.lower() not in _OF:
            raise Refused(f"{line!r} does not say of what.", ACCEPTED)
        if amount == 0:
            raise Refused(f"{line!r} adds nothing.", "Leave it out.")
        if name in (*named, *shares):
            raise Refused(f"{name!r} is in this mix twice.", "Give each its own name, or add them up.")
        named.append(name)
        counted.append((amount, _OF.get(of.lower(), Of.COMPONENT), shares.get(component, 1.0)))
    return dict(zip(named, additive_shares(counted), strict=True))


def additives_text(material: Material) -> str:
    """A material's additives as such lines."""
    letters = {component.name: letter for component, letter in zip(material.components, NAMES, strict=False)}
    return "\n".join(
        f"{additive.name} {additive.percent:g} % of {ALL if additive.of == TOTAL else letters[additive.of]}"
        for additive in material.additives
    )


def left_of(lines: Sequence[str], names: Sequence[str]) -> dict[str, float]:
    """What is left of ingredients, in g. Raises Refused for a line that names none; NotAQuantity for its mass."""
    left: dict[str, float] = {}
    longest_first = sorted(names, key=len, reverse=True)
    for line in lines:
        found = next((name for name in longest_first if re.match(rf"{re.escape(name)}\b", line, re.IGNORECASE)), None)
        if found is None:
            raise Refused(f"{line!r} names nothing of this mix.", f"Write {names[0]} 640 g; it has {', '.join(names)}.")
        if found in left:
            raise Refused(f"{found} is listed twice.", "Add up what is left of it.")
        left[found] = grams(line[len(found) :].strip(" :="), bare="g")
    return left
