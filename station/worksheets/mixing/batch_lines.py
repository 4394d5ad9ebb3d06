"""Typed lines of a batch: "pigment 3 % of B" for an additive, "A 640 g" for what is left of a component.

The words of a line may be English ones or those of the station's language.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from station.casting.ratio import Of, additive_shares
from station.core.material import TOTAL, Material
from station.errors import Refused
from station.quantities import grams
from station.texts import N_, t, tc
from station.worksheets.mixing.mixes import NAMES

ALL, WHOLE = "all", "whole mix"
_OF = {ALL: Of.COMPONENTS, "all components": Of.COMPONENTS, WHOLE: Of.WHOLE, "the whole mix": Of.WHOLE}
ACCEPTED = N_(
    'Write "pigment 3 % of B", "thinner 5 % of all" (all components together: parts per hundred), or "filler 10 % of '
    'whole mix" (the additive counted in).'
)


def _of() -> str:
    return tc("typed, pigment 3 % of B", "of")


def _all() -> str:
    return tc("typed, thinner 5 % of all components", "all")


def _bases() -> Mapping[str, Of]:
    """What an additive may be counted by, small letters."""
    said = {_all(): Of.COMPONENTS, tc("typed, filler 10 % of whole mix", "whole mix"): Of.WHOLE}
    return _OF | {words.lower(): of for words, of in said.items()}


def _additive(line: str) -> re.Match[str] | None:
    hundred = re.escape(tc("typed, filler 5 parts per hundred", "parts per hundred"))
    return re.fullmatch(
        rf"(?P<name>.+?) ?:? (?P<amount>\d+(?:[.,]\d+)?) ?(?P<per>%|parts per hundred|{hundred})"
        rf"(?: (?:(?:of|{re.escape(_of())}) )?(?P<of>.+))?",
        " ".join(line.split()),
        re.IGNORECASE,
    )


def additives(lines: Sequence[str], shares: Mapping[str, float]) -> dict[str, float]:
    """Mass of each additive per gram of all components. Raises Refused for a line that cannot be read."""
    named: list[str] = []
    counted: list[tuple[float, Of, float]] = []
    bases = _bases()
    for line in lines:
        found = _additive(line)
        if found is None:
            raise Refused(t("{line} is not an additive.", line=repr(line)), t(ACCEPTED))
        name, amount = found["name"], float(found["amount"].replace(",", "."))
        of = found["of"] or (ALL if found["per"] != "%" else "")
        component = of.upper()
        if component not in shares and of.lower() not in bases:
            raise Refused(t("{line} does not say of what.", line=repr(line)), t(ACCEPTED))
        if amount == 0:
            raise Refused(t("{line} adds nothing.", line=repr(line)), t("Leave it out."))
        if name in (*named, *shares):
            raise Refused(
                t("{name} is in this mix twice.", name=repr(name)), t("Give each its own name, or add them up.")
            )
        named.append(name)
        counted.append((amount, bases.get(of.lower(), Of.COMPONENT), shares.get(component, 1.0)))
    return dict(zip(named, additive_shares(counted), strict=True))


def additives_text(material: Material) -> str:
    """A material's additives as such lines."""
    letters = {component.name: letter for component, letter in zip(material.components, NAMES, strict=False)}
    return "\n".join(
        f"{additive.name} {additive.percent:g} % {_of()} {_all() if additive.of == TOTAL else letters[additive.of]}"
        for additive in material.additives
    )


def left_of(lines: Sequence[str], names: Sequence[str]) -> dict[str, float]:
    """What is left of ingredients, in g. Raises Refused for a line that names none; NotAQuantity for its mass."""
    left: dict[str, float] = {}
    longest_first = sorted(names, key=len, reverse=True)
    for line in lines:
        found = next((name for name in longest_first if re.match(rf"{re.escape(name)}\b", line, re.IGNORECASE)), None)
        if found is None:
            raise Refused(
                t("{line} names nothing of this mix.", line=repr(line)),
                t("Write {name} 640 g; it has {names}.", name=names[0], names=", ".join(names)),
            )
        if found in left:
            raise Refused(t("{name} is listed twice.", name=found), t("Add up what is left of it."))
        left[found] = grams(line[len(found) :].strip(" :="), bare="g")
    return left
