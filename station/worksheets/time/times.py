"""Worksheets of time: at another temperature, of another mass in the cup, and the age by a temperature log."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.chemistry import Chemistry
from station.core.material import Material
from station.core.spans import span
from station.texts import N_
from station.worksheets.form import Field, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.time.times_age import log
from station.worksheets.time.times_work import mass, today

CHEMISTRIES = tuple(kind.value for kind in Chemistry)


def _of_material(material: Material) -> Mapping[str, str]:
    times = material.times
    known = {
        "reference": f"{times.reference_c:g} °C",
        "pot-life": span(times.pot_life_s),
        "reserve": span(times.pour_reserve_s),
        "demold": span(times.demold_s),
        "chemistry": material.chemistry.value,
        "demold-table": "\n".join(f"{row.celsius:g} °C {span(row.demold_s)}" for row in times.at if row.demold_s),
        "table": "\n".join(f"{row.celsius:g} °C {span(row.pot_life_s)}" for row in times.at if row.pot_life_s),
    }
    optional = {
        "full-cure": times.full_cure_s and span(times.full_cure_s),
        "activation": times.activation_kj and f"{times.activation_kj:g}",
        "coldest": times.coldest_c is not None and f"{times.coldest_c:g} °C",
        "warmest": times.warmest_c is not None and f"{times.warmest_c:g} °C",
    }
    return known | {key: text for key, text in optional.items() if text}


def _mass_of_material(material: Material) -> Mapping[str, str]:
    times = material.times
    known = {
        "pot-life": span(times.pot_life_s),
        "table": "\n".join(f"{one.mass_g:g} g {span(one.pot_life_s)}" for one in times.pot_life_by_mass),
    }
    return known | ({"stated-mass": f"{times.pot_life_g:g} g"} if times.pot_life_g else {})


_DRIVES = (
    Field("reference", N_("Sheet's temperature"), Kind.TEMPERATURE, "23 °C", N_("What its times hold for.")),
    Field("chemistry", N_("Kind of system"), Kind.CHOICE, choices=CHEMISTRIES),
    Field(
        "activation", N_("Activation energy"), Kind.NUMBER, optional=True, hint=N_("kJ/mol, where the sheet gives one.")
    ),
    Field("coldest", N_("Coldest it may be used"), Kind.TEMPERATURE, optional=True),
    Field("warmest", N_("Warmest it may be used"), Kind.TEMPERATURE, optional=True),
)
_DEMOLD_TABLE = Field(
    "demold-table",
    N_("Demold at other temperatures"),
    Kind.LINES,
    optional=True,
    hint=N_("Where the sheet has a table, one a line: 15 °C 3 h. It drives demold and full cure before any energy."),
)
_LOG_KEYS = {"demold", "demold-table", *(field.key for field in _DRIVES)}


def _log_of_material(material: Material) -> Mapping[str, str]:
    return {key: text for key, text in _of_material(material).items() if key in _LOG_KEYS}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "times-today",
        N_("Times at today's temperature"),
        N_("How long do I have, and how long must I wait, when it is colder or warmer than the sheet says?"),
        (
            Field(
                "today",
                N_("Temperature today"),
                Kind.TEMPERATURE,
                hint=N_("Of the components and the mold, not the street."),
            ),
            Field("pot-life", N_("Pot life on the sheet"), Kind.TIME),
            Field("reserve", N_("Kept of it for pouring"), Kind.TIME, "0 s"),
            Field("demold", N_("Demold on the sheet"), Kind.TIME, optional=True, bare="h"),
            Field("full-cure", N_("Full cure on the sheet"), Kind.TIME, optional=True, bare="h"),
            *_DRIVES,
            Field(
                "table",
                N_("Pot lives at other temperatures"),
                Kind.LINES,
                optional=True,
                hint=N_(
                    "Where the sheet has a table, one a line: 30 °C 12 min. It drives the pot life before any energy."
                ),
            ),
            _DEMOLD_TABLE,
        ),
        today,
        _of_material,
    ),
    Worksheet(
        "pot-life-mass",
        N_("Pot life of a larger batch"),
        N_("The sheet says 100 g: how long does my cup live?"),
        (
            Field("mass", N_("Mix in one cup"), Kind.MASS),
            Field("pot-life", N_("Pot life on the sheet"), Kind.TIME),
            Field("stated-mass", N_("It holds for"), Kind.MASS, optional=True, hint=N_("Mostly 100 g.")),
            Field(
                "table",
                N_("Other masses on the sheet"),
                Kind.LINES,
                optional=True,
                hint=N_("One a line: 500 g 11 min."),
            ),
        ),
        mass,
        _mass_of_material,
    ),
    Worksheet(
        "age-by-log",
        N_("Age of a cure by its temperatures"),
        N_("It was cold over night: is it ready?"),
        (
            Field(
                "log", N_("What it went through"), Kind.LINES, hint=N_("One spell a line, the first first: 2 h 18 °C.")
            ),
            Field("demold", N_("Demold on the sheet"), Kind.TIME, bare="h"),
            *_DRIVES,
            _DEMOLD_TABLE,
            Field(
                "datum",
                N_("Datum of the linear rule"),
                Kind.TEMPERATURE,
                optional=True,
                hint=N_("For a second opinion: the temperature at which nothing cures any more, as you found it."),
            ),
        ),
        log,
        _log_of_material,
    ),
)
