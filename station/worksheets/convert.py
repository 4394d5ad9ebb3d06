"""Worksheet: any mass, volume, length, density or temperature in all its units; ounces kept apart."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from fractions import Fraction

from station import quantities
from station.casting.unit_names import UNSAID, mass_unit, volume_unit
from station.casting.units import (
    CM3,
    DENSITIES,
    GRAMS,
    MM,
    SECONDS,
    SPECIFIC_VOLUMES,
    cm3_per_gram,
    fahrenheit_of,
    grams_per_cm3,
)
from station.casting.written import MayBeThousands, written
from station.errors import Refused
from station.quantities import AnotherSort, NotAQuantity
from station.texts import N_, decimal, t
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain

_OUNCES = N_(
    "An ounce (oz) is a mass, 28.35 g; a fluid ounce (fl oz) is a volume, 29.57 ml in the US and 28.41 ml imperial. "
    "Only of something as dense as water do they come near each other."
)
_FOAM_POUND = N_('In the names of foams "lb" is short for lb/ft³: for the density write it so.')


def _by(worth: Mapping[str, Decimal], value: float) -> dict[str, float]:
    return {unit: value / float(factor) for unit, factor in worth.items()}


def _temperatures(celsius: float) -> dict[str, float]:
    return {"°C": celsius, "°F": float(fahrenheit_of(Fraction(celsius))), "K": celsius + 273.15}


def _densities(density: float) -> dict[str, float]:
    straight = {unit: density / float(grams_per_cm3(unit)) for unit in DENSITIES}
    inverse = {unit: 1 / density / float(cm3_per_gram(unit)) for unit in SPECIFIC_VOLUMES} if density > 0 else {}
    return straight | inverse


_SORTS: dict[str, tuple[Callable[[str], float], Callable[[float], dict[str, float]]]] = {
    "mass": (quantities.grams, lambda value: _by(GRAMS, value)),
    "volume": (quantities.volume, lambda value: _by(CM3, value)),
    "length": (quantities.length, lambda value: _by(MM, value)),
    "density": (quantities.density, _densities),
    "temperature": (quantities.celsius, _temperatures),
    "time": (quantities.seconds, lambda value: _by(SECONDS, value)),
}


def _read(text: str) -> tuple[str, float]:
    """Sort of quantity and its value in the station's unit. Raises NotAQuantity or Refused."""
    refusals: list[NotAQuantity] = []
    for sort, (read, _) in _SORTS.items():
        try:
            return sort, read(text)
        except NotAQuantity as no:
            refusals.append(no)
    try:
        found = written(text)
    except MayBeThousands:
        raise refusals[0] from None
    if found is not None and volume_unit(found.rest) in UNSAID:
        raise refusals[list(_SORTS).index("volume")]
    for refusal in refusals:
        if not isinstance(refusal, AnotherSort):  # it is such a quantity, but out of all measure
            raise refusal
    raise Refused(
        t("{typed} is not a number with a unit that is known here.", typed=repr(text)),
        t('Write for example "12 oz", "2 US fl oz", "1 1/2 in", "6 lb/ft3", "25 in3/lb", "73 °F".'),
    )


def _rule(sort: str, unit: str) -> str:
    """What one of the unit is worth."""
    match sort:
        case "mass":
            return f"1 {unit} = {plain(float(GRAMS[unit]), 12)} g"
        case "volume":
            return f"1 {unit} = {plain(float(CM3[unit]), 12)} cm³"
        case "length":
            return f"1 {unit} = {plain(float(MM[unit]), 12)} mm"
        case "time":
            return f"1 {unit} = {plain(float(SECONDS[unit]), 12)} s"
        case "density" if unit in DENSITIES:
            return f"1 {unit} = {plain(float(grams_per_cm3(unit)), 9)} g/cm³"
        case "density":
            return t("1 ÷ density; 1 {unit} = {worth} cm³/g", unit=unit, worth=plain(float(cm3_per_gram(unit)), 9))
        case _:
            return decimal({"°F": "°C × 1.8 + 32", "K": "°C + 273.15"}.get(unit, "(°F − 32) ÷ 1.8"))


def work(values: Values) -> Worked:
    """The quantity in all units of its sort. Raises NotAQuantity or Refused."""
    text, density = values["quantity"], values["density"]
    sort, value = _read(text)
    others = _SORTS[sort][1](value)
    rows = [Row(unit, plain(number, 7), _rule(sort, unit)) for unit, number in others.items()]
    figures: dict[str, Figure | dict[str, float]] = {"sort": sort, "in": others}
    if density is not None and sort in ("mass", "volume"):
        if density <= 0:
            raise Refused(t("The density must be above zero."), t("Give that of what is weighed or measured."))
        if sort == "mass":
            cm3 = value / density
            rows.insert(0, Row(t("Takes up"), f"{plain(cm3)} cm³", f"{plain(value)} g ÷ {plain(density)} g/cm³"))
            figures["volume_cm3"] = cm3
        else:
            grams = value * density
            rows.insert(0, Row(t("Weighs"), f"{plain(grams)} g", f"{plain(value)} cm³ × {plain(density)} g/cm³"))
            figures["mass_g"] = grams
    return Worked(tuple(rows), figures, warnings=_warnings(text, sort))


def _warnings(text: str, sort: str) -> tuple[str, ...]:
    """What is easily mistaken about this unit."""
    found = written(text)
    unit = found.rest if found is not None else ""
    if sort == "volume" and (volume_unit(unit) or "").endswith("fl oz"):
        return (t(_OUNCES),)
    match mass_unit(unit) if sort == "mass" else None:
        case "oz":
            return (t(_OUNCES),)
        case "lb":
            return (t(_FOAM_POUND),)
        case "ozt":
            return (t("A troy ounce is 31.10 g, a tenth more than the ounce of kitchen and post scales."),)
        case _:
            return ()


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        key="convert",
        title=N_("Units"),
        purpose=N_("What is this mass, volume, length, density, temperature or time in other units?"),
        fields=(
            Field(
                "quantity",
                N_("Quantity with its unit"),
                Kind.TEXT,
                hint=N_('For example "12 oz", "2 US fl oz", "1 1/2 in", "6 lb/ft3", "25 in3/lb" or "73 °F".'),
            ),
            Field(
                "density",
                N_("Density, to go from mass to volume or back"),
                Kind.DENSITY,
                optional=True,
                hint=N_("Of the material, from its sheet."),
            ),
        ),
        work=work,
    ),
)
