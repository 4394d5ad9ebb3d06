"""Typed lines of what is needed and what is on offer: "A 640 g", "small pair: A 1 kg, B 600 g, 34.00".

The words of a line may be English ones or those of the station's language.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from station.casting.purchase import KitOffer, Purchase
from station.core.material import Material
from station.errors import Refused
from station.quantities import NotAQuantity, grams
from station.texts import number, t, tc
from station.worksheets.form import Row
from station.worksheets.kinds import Kind, read

_PART = re.compile(r"(?P<name>.+?)\s+(?P<mass>[\d.,]+\s*\S+)")


def money(hundredths: float) -> str:
    """A price as it is written."""
    return number(hundredths / 100, ".2f")


def part(text: str) -> tuple[str, float]:
    """ "A 640 g" as a name and grams. Raises Refused."""
    found = _PART.fullmatch(text.strip())
    if found is None:
        raise Refused(t("{typed} is not a component with its mass.", typed=repr(text)), t('Write it as "A 640 g".'))
    try:
        return found["name"].strip(" :"), grams(found["mass"])
    except NotAQuantity as wrong:
        raise Refused(f"{text!r}: {wrong}", t('Write it as "A 640 g".')) from None


def parts(lines: Sequence[str]) -> dict[str, float]:
    """Components with their masses; the same one twice adds up."""
    found: dict[str, float] = {}
    for line in lines:
        name, mass = part(line)
        found[name] = found.get(name, 0.0) + mass
    return found


def offer(line: str) -> KitOffer:
    """ "small pair: A 1 kg, B 600 g, 34.00", or with "at most 2" at its end. Raises Refused."""
    title, colon, rest = line.partition(":")
    cells = [cell.strip() for cell in rest.split(", ")]
    most = None
    at_most = re.escape(tc("typed at the end of a kit, at most 2", "at most"))
    if cells and (limit := re.fullmatch(rf"(?:at most|{at_most}) (\d{{1,4}})", cells[-1])):
        most = int(limit[1])
        cells.pop()
    if not colon or len(cells) < 2:
        raise Refused(
            t("{line} is not a kit.", line=repr(line)), t('Write it as "small pair: A 1 kg, B 600 g, 34.00".')
        )
    try:
        price = read(Kind.MONEY, cells[-1])
    except NotAQuantity as wrong:
        raise Refused(f"{line!r}: {wrong}", t("The price comes last.")) from None
    return KitOffer(title.strip(), parts(cells[:-1]), price, most)


def offers(lines: Sequence[str]) -> list[KitOffer]:
    """All kits on offer. Raises Refused when two share a title."""
    found = [offer(line) for line in lines]
    titles = [kit.title for kit in found]
    twice = sorted({title for title in titles if titles.count(title) > 1})
    if twice:
        raise Refused(t("Two kits are called {titles}.", titles=", ".join(twice)), t("Give each a title of its own."))
    return found


def offer_lines(material: Material) -> str:
    """The kits of a material's sheet as lines."""
    return "\n".join(
        f"{kit.title}: {', '.join(f'{one.component} {one.mass.g:g} g' for one in kit.parts)}, {money(kit.price)}"
        for kit in material.kits
    )


def bought_rows(bought: Purchase, kits: Sequence[KitOffer]) -> list[Row]:
    """What to buy, and what is left of it."""
    by_title = {kit.title: kit for kit in kits}
    rows = [
        Row(title, f"{count} ×", f"{count} × {money(by_title[title].price)} = {money(count * by_title[title].price)}")
        for title, count in bought.counts.items()
    ]
    left = ", ".join(f"{name} {grams_left:.0f} g" for name, grams_left in bought.surplus_g.items())
    return [*rows, Row(t("Left over"), left or tc("nothing is left over", "nothing"))]
