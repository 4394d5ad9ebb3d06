"""What worksheets share about mixes: typed ratios and densities with their digits, and those of a material."""

from __future__ import annotations

import re
from collections.abc import Sequence
from string import ascii_uppercase

from station.casting.ratio import weight_shares
from station.casting.two_ratios import Printed, printed, printed_parts
from station.core.material import Basis, Material
from station.errors import Refused
from station.quantities import density
from station.texts import decimal, t, tc

NAMES = ascii_uppercase[:8]
"""Components are called by letters, in the order of the ratio."""

_PART = re.compile(r"\d{1,6}(?:[.,]\d{1,6})?|[.,]\d{1,6}")
_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}")


def _cells(typed: str) -> tuple[str, ...]:
    """The parts of "100:60", "10 : 1 : 0,5", "10 to 1" as decimals. Raises Refused for anything else."""
    to = re.escape(tc("between the parts of a mix ratio, 10 to 1", "to"))
    cells = [cell.strip() for cell in re.split(rf":|/|\bto\b|\b{to}\b", typed)]
    if not 2 <= len(cells) <= len(NAMES) or not all(_PART.fullmatch(cell) for cell in cells):
        raise Refused(
            t("{typed} is not a mix ratio.", typed=repr(typed)),
            t('Write the parts with colons, such as "100:60" or "10:1:0.5".'),
        )
    for cell in cells:
        # Not in a language that marks decimals with a comma: there it is one.
        if decimal(".") != "," and _THOUSANDS.fullmatch(cell):
            whole, broken = cell.replace(",", ""), cell.replace(",", ".")
            raise Refused(
                t(
                    "{cell} in {typed} may mean {whole} or {broken}.",
                    cell=repr(cell),
                    typed=repr(typed),
                    whole=whole,
                    broken=broken,
                ),
                t("Write it without the comma."),
            )
    decimals = tuple(cell.replace(",", ".") for cell in cells)
    if any(float(cell) <= 0 for cell in decimals):
        raise Refused(t("{typed} has a part of nothing.", typed=repr(typed)), t("Every part must be above zero."))
    return decimals


def parts_of(typed: str) -> dict[str, float]:
    """Parts of a typed ratio as A, B, C …. Raises Refused with a sentence for anything else."""
    return {name: float(cell) for name, cell in zip(NAMES, _cells(typed), strict=False)}


def parts_as_printed(typed: str) -> tuple[Printed, ...]:
    """The parts of a typed ratio with what their digits leave open. Raises Refused as `parts_of`."""
    return printed_parts(_cells(typed))


def densities_as_printed(typed: str | None, names: Sequence[str]) -> dict[str, Printed]:
    """Densities in g/cm³ of "1.06 : 0.98" or "1060 kg/m3 : 980 kg/m3", none where nothing is typed.

    Raises Refused for another number of them than of components; NotAQuantity for one that cannot be read.
    """
    if not typed:
        return {}
    cells = [cell.strip() for cell in re.split(r"[:;]", typed)]
    if len(cells) != len(names):
        raise Refused(
            t("{given} densities are given for {n} components.", given=len(cells), n=len(names)),
            t('Write one each with colons, such as "1.06 : 0.98".'),
        )
    return {name: _density(cell) for name, cell in zip(names, cells, strict=True)}


def _density(cell: str) -> Printed:
    value = density(cell, bare="g/cm3")
    if not value > 0:
        raise Refused(t("A density of {cell} is none.", cell=cell), t("Every density must be above zero."))
    digits = re.match(r"\d+[.,]?\d*", cell)
    number = printed(digits.group().replace(",", ".")) if digits else Printed(value)
    # Whole g/cm³ typed without a unit mean 1.0; in another unit the digits count as they stand.
    half = min(number.half / number.value * value, 0.05)
    return Printed(value, half)


def cells_of(line: str) -> list[str]:
    """What stands between the commas of a line; a comma inside a number ("64,7 g, 60,9 g") is left alone."""
    cells = re.split(r",\s+", line)
    return [cell.strip() for cell in (cells if len(cells) > 1 else line.split(","))]


def ratio_text(material: Material) -> str | None:
    """The ratio by weight of a material; from volume, the largest part is 100. None without the densities for it."""
    parts = [component.parts for component in material.components]
    if material.basis is Basis.VOLUME:
        densities = [component.density for component in material.components]
        if not all(densities):
            return None
        shares = weight_shares(parts, densities)
        parts = [round(100 * share / max(shares), 2) for share in shares]
    return ":".join(f"{part:g}" for part in parts)


def densities_text(material: Material) -> str | None:
    """The densities of a material's components in order; None where one is missing."""
    found = [component.density for component in material.components]
    return " : ".join(f"{value:g}" for value in found if value) if all(found) else None
