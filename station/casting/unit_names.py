"""How people spell units, and the unit that they mean: "fl. oz. (US)", "cu in", "cc", "lbs per cubic foot".

Capital letters, full stops, blanks and ³ or 3 make no difference. A name that means different things in different
countries stays as it is and has no worth until the country is said; see `UNSAID`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from station.casting.units import CM3, GRAMS

UNSAID = frozenset({"fl oz", "gal", "qt", "pt", "cup", "tbsp", "tsp"})
"""Volumes that are not the same in the US and in Britain; `volume_unit` gives them when neither was said."""

_US = frozenset({"us", "usa", "american", "u s"})
_IMPERIAL = frozenset({"imp", "imperial", "uk", "british", "brit"})


def _listed(names: Mapping[str, str]) -> Mapping[str, str]:
    """Spelling → name, from name → its other spellings parted by blanks."""
    return MappingProxyType({spelling: name for name, more in names.items() for spelling in (name, *more.split())})


_MASSES = _listed(
    {
        "mg": "milligram milligrams",
        "g": "gm gms gram grams gramme grammes",
        "kg": "kgs kilo kilos kilogram kilograms",
        "oz": "ozs ounce ounces ozav",
        "lb": "lbs pound pounds",
        "ozt": "troyoz troyounce troyounces",
        "dwt": "pennyweight pennyweights",
        "grain": "grains",
    }
)
_METRIC_VOLUMES = _listed(
    {
        "mm3": "cumm cubicmillimetre cubicmillimetres cubicmillimeter cubicmillimeters",
        "cm3": "cc ccm cucm cubiccentimetre cubiccentimetres cubiccentimeter cubiccentimeters",
        "ml": "mls millilitre millilitres milliliter milliliters",
        "cl": "centilitre centilitres centiliter centiliters",
        "dl": "decilitre decilitres deciliter deciliters",
        "l": "ltr litre litres liter liters",
        "m3": "cum cubicmetre cubicmetres cubicmeter cubicmeters",
        "in3": "cuin inch3 inches3 cubicin cubicinch cubicinches",
        "ft3": "cuft foot3 feet3 cubicft cubicfoot cubicfeet",
        "yd3": "cuyd yard3 yards3 cubicyd cubicyard cubicyards",
    }
)
_COUNTRY_VOLUMES = _listed(
    {
        "fl oz": "floz flozs fluidoz fluidounce fluidounces flounce flounces",
        "gal": "gals gallon gallons",
        "qt": "qts quart quarts",
        "pt": "pts pint pints",
        "cup": "cups",
        "tbsp": "tbsps tablespoon tablespoons",
        "tsp": "tsps teaspoon teaspoons",
    }
)
_LENGTHS = _listed(
    {
        "mm": "millimetre millimetres millimeter millimeters",
        "cm": "centimetre centimetres centimeter centimeters",
        "m": "metre metres meter meters",
        "in": "inch inches \" ″ ” “ '' ′′ ’’",
        "ft": "foot feet ' ′ ’ ‘",
        "yd": "yds yard yards",
    }
)
_TIMES = _listed(
    {
        "s": "sec secs second seconds",
        "min": "mins minute minutes",
        "h": "hr hrs hour hours",
        "d": "day days",
    }
)
_TEMPERATURES = _listed(
    {
        "°c": "c degc degreesc celsius degreescelsius",
        "°f": "f degf degreesf fahrenheit degreesfahrenheit",
    }
)
_SHORT_DENSITIES: Mapping[str, str] = MappingProxyType({"pcf": "lb/ft³"})


def _words(typed: str) -> list[str]:
    text = typed.casefold().replace("³", "3").replace("^3", "3").replace("º", "°").replace("u.s.", "us ")
    return "".join(" " if sign in ".()-" else sign for sign in text).split()


def mass_unit(typed: str) -> str | None:
    """The name in `GRAMS` of a spelling, or None."""
    return _MASSES.get("".join(_words(typed)))


def volume_unit(typed: str) -> str | None:
    """The name in `CM3` of a spelling, one of `UNSAID` when the country was not said, or None."""
    words = _words(typed)
    plain = [word for word in words if word not in _US | _IMPERIAL]
    countries = {"US" if word in _US else "imp" for word in words if word in _US | _IMPERIAL}
    name = "".join(plain)
    if not countries and (metric := _METRIC_VOLUMES.get(name)):
        return metric.replace("3", "³")
    for prefix, country in (("us", "US"), ("imp", "imp"), ("uk", "imp")):  # "usfloz" in one word
        if not countries and name.startswith(prefix) and name.removeprefix(prefix) in _COUNTRY_VOLUMES:
            name, countries = name.removeprefix(prefix), {country}
    found = _COUNTRY_VOLUMES.get(name)
    if found is None or len(countries) > 1:
        return None
    told = f"{countries.pop()} {found}" if countries else found
    return told if told in CM3 or told in UNSAID else None


def length_unit(typed: str) -> str | None:
    """The name in `MM` of a spelling, or None."""
    return _LENGTHS.get("".join(_words(typed)))


def time_unit(typed: str) -> str | None:
    """The name in `SECONDS` of a spelling, or None."""
    return _TIMES.get("".join(_words(typed)))


def temperature_unit(typed: str) -> str | None:
    """ "°C" or "°F" for a spelling of them, or None."""
    found = _TEMPERATURES.get("".join(_words(typed)))
    return found.upper() if found else None


def quotient_unit(typed: str) -> str | None:
    """A density "lb/ft³" or a specific volume "in³/lb" for a spelling of one, or None.

    A gallon whose country is not said is the US one here: that is how sheets give "lb/gal".
    """
    if short := _SHORT_DENSITIES.get("".join(_words(typed))):
        return short
    over, slash, under = " ".join(_words(typed)).replace(" per ", "/").partition("/")
    if not slash:
        return None
    named = [mass_unit(over) or volume_unit(over), mass_unit(under) or volume_unit(under)]
    told = ["US gal" if name == "gal" else name for name in named]
    match told:
        case [str(mass), str(volume)] if mass in GRAMS and volume in CM3:
            return f"{mass}/{volume}"
        case [str(volume), str(mass)] if mass in GRAMS and volume in CM3:
            return f"{volume}/{mass}"
        case _:
            return None
