"""Worksheets of time: at another temperature, of another mass in the cup, and the age by a temperature log."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from station.casting.chemistry import Chemistry
from station.casting.kinetics import DEFAULT_KJ, Kinetics, Rate, Unknown, equivalent_age
from station.casting.potlife import of_mass
from station.core.material import Material
from station.core.sheet_words import span
from station.errors import Refused
from station.quantities import celsius, grams, seconds
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain
from station.worksheets.time.times_drawing import age_plot, mass_plot, temperature_plot

CHEMISTRIES = tuple(kind.value for kind in Chemistry)
TOO_COLD = (
    "Below the sheet's limit some systems never cure. Bring the closed cans to temperature, which can take a day; "
    "never speed a cure up by changing the ratio."
)


def _kinetics(values: Values) -> tuple[Kinetics, str]:
    """What drives the times, and from where that is known."""
    chemistry = Chemistry(values["chemistry"])
    low, high = DEFAULT_KJ.get(chemistry, (None, None))
    said = (
        f"{low:g} to {high:g} kJ/mol, the range for {chemistry.value}"
        if low is not None
        else "nothing is known of how temperature drives it"
    )
    if values["activation"] is not None:
        low = high = values["activation"]
        said = f"{low:g} kJ/mol from its sheet"
    table = tuple((at, values["pot-life"] / took) for at, took in map(_at, values["table"]))
    if table:
        said = "the sheet's own table"
    return Kinetics(values["reference"], low, high, values["coldest"], values["warmest"], table), said


def _at(line: str) -> tuple[float, float]:
    """ "30 °C 12 min": a temperature and a pot life."""
    for mark in ("°C", "°F", " C ", " F "):
        head, found, tail = line.partition(mark)
        if found and tail.strip():
            return celsius(head + found.strip()), seconds(tail.strip(" :,="))
    raise Refused(f"{line!r} is not a temperature with a time.", 'Write it as "30 °C 12 min".')


def _today(values: Values) -> Worked:
    kinetics, said = _kinetics(values)
    found = kinetics.rate(values["today"])
    if isinstance(found, Unknown):
        raise Refused(found.why, TOO_COLD if found.cold else "Take the sheet's times with care, or ask its supplier.")
    rows, figures = [], {"rate_slow": found.slow, "rate_fast": found.fast}
    times = [
        ("pot-life", "Pot life, at most", True),
        ("window", "of it for weighing and mixing", True),
        ("demold", "Demold, at least", False),
        ("full-cure", "Full cure, at least", False),
    ]
    given = dict(values) | {"window": values["pot-life"] - values["reserve"]}
    for key, label, limit in times:
        if given[key] is None:
            continue
        low, high = found.shortest(given[key]), found.longest(given[key])
        if key == "window":
            low = max(0.0, found.shortest(values["pot-life"]) - values["reserve"])
            high = max(0.0, found.longest(values["pot-life"]) - values["reserve"])
        name = key.replace("-", "_")
        figures |= {f"{name}_shortest_s": low, f"{name}_longest_s": high}
        counted = low if limit else high
        rows.append(
            Row(
                label,
                _between(low, high),
                f"count with {_about(counted)}; {span(given[key])} at {values['reference']:g} °C",
            )
        )
    rows.append(Row("One hour counts as", f"{60 * found.slow:.0f} to {60 * found.fast:.0f} min", f"by {said}"))
    return Worked(
        tuple(rows),
        figures,
        notes=(
            "A limit is counted at its shortest, a wait at its longest: that is the safe side of each.",
            "Large masses heat themselves and thin films do not: the sheet's times are of some 100 g.",
            "A pot life ends well before the gel point, and demold comes well after it.",
        ),
        drawings=(temperature_plot(kinetics, values["pot-life"], values["today"]),),
    )


def _mass(values: Values) -> Worked:
    table = tuple(_of(line) for line in values["table"])
    made = of_mass(values["mass"], values["pot-life"], values["stated-mass"], table)
    warnings = () if made.sure else (made.words,)
    drawings = (mass_plot(table, values["mass"], made.seconds),) if len(table) > 1 else ()
    return Worked(
        (Row("Pot life to count with", _about(made.seconds), made.words),),
        {"pot_life_s": made.seconds, "sure": made.sure},
        warnings,
        ("Straight lines between the sheet's points on logarithms of both; beyond the last point nothing is added.",),
        ("A full cup of mixed material grows hot: pour it soon, spread it out, never leave it standing.",),
        drawings,
    )


def _of(line: str) -> tuple[float, float]:
    """ "500 g 11 min": a mass and its pot life."""
    words = line.replace(",", " ").replace(":", " ").split()
    for cut in range(1, len(words)):
        try:
            return grams(" ".join(words[:cut]), bare="g"), seconds(" ".join(words[cut:]), bare="min")
        except ValueError:
            continue
    raise Refused(f"{line!r} is not a mass with its pot life.", 'Write it as "500 g 11 min".')


def _log(values: Values) -> Worked:
    kinetics, said = _kinetics(dict(values) | {"table": (), "pot-life": 0.0})
    history = tuple(_spell(line) for line in values["log"])
    if not history:
        raise Refused("The log is empty.", 'Write one spell a line, such as "2 h 18 °C".')
    age = equivalent_age(kinetics, history)
    if isinstance(age, Unknown):
        raise Refused(age.why, TOO_COLD if age.cold else "Leave that spell out to be on the safe side.")
    spent = sum(took for took, _ in history)
    left = values["demold"] - age.slow
    last = kinetics.rate(history[-1][1])
    assert isinstance(last, Rate)
    rows = [
        Row(
            "Age at the reference temperature", _between(age.slow, age.fast), f"{_about(spent)} on the clock, by {said}"
        ),
        Row(
            "Demold",
            "reached" if left <= 0 else f"in {_about(left / last.slow)}",
            f"{span(values['demold'])} asked for, {_about(age.slow)} counted; at {history[-1][1]:g} °C as now",
        ),
    ]
    return Worked(
        tuple(rows),
        {"age_slow_s": age.slow, "age_fast_s": age.fast, "clock_s": spent, "demold_in_s": max(0.0, left / last.slow)},
        notes=("Equivalent age as in ASTM C1074: each spell counts by its Arrhenius factor.",),
        tables=(Table("The spells", ("time", "temperature", "counts at least"), _told(kinetics, history)),),
        drawings=(age_plot(kinetics, history, values["demold"]),),
    )


def _told(kinetics: Kinetics, history: Sequence[tuple[float, float]]) -> tuple[tuple[str, ...], ...]:
    rows = []
    for took, at in history:
        found = kinetics.rate(at)
        assert isinstance(found, Rate)
        rows.append((_about(took), f"{at:g} °C", _about(took * found.slow)))
    return tuple(rows)


def _spell(line: str) -> tuple[float, float]:
    words = line.replace(",", " ").split()
    for cut in range(1, len(words)):
        try:
            return seconds(" ".join(words[:cut])), celsius(" ".join(words[cut:]), bare="°C")
        except ValueError:
            continue
    raise Refused(f"{line!r} is not a time with its temperature.", 'Write it as "2 h 18 °C".')


def _between(low: float, high: float) -> str:
    return _about(low) if _about(low) == _about(high) else f"{_about(low)} to {_about(high)}"


def _about(took: float) -> str:
    for unit, worth in (("d", 86400.0), ("h", 3600.0), ("min", 60.0)):
        if took >= 2 * worth:
            return f"{plain(took / worth, 3)} {unit}"
    return f"{plain(took, 3)} s"


def _of_material(material: Material) -> Mapping[str, str]:
    times = material.times
    known = {
        "reference": f"{times.reference_c:g} °C",
        "pot-life": span(times.pot_life_s),
        "reserve": span(times.pour_reserve_s),
        "demold": span(times.demold_s),
        "chemistry": material.chemistry.value,
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
    Field("reference", "Sheet's temperature", Kind.TEMPERATURE, "23 °C", "What its times hold for."),
    Field("chemistry", "Kind of system", Kind.CHOICE, choices=CHEMISTRIES),
    Field("activation", "Activation energy", Kind.NUMBER, optional=True, hint="kJ/mol, where the sheet gives one."),
    Field("coldest", "Coldest it may be used", Kind.TEMPERATURE, optional=True),
    Field("warmest", "Warmest it may be used", Kind.TEMPERATURE, optional=True),
)
_LOG_KEYS = {"demold", *(field.key for field in _DRIVES)}


def _log_of_material(material: Material) -> Mapping[str, str]:
    return {key: text for key, text in _of_material(material).items() if key in _LOG_KEYS}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "times-today",
        "Times at today's temperature",
        "How long do I have, and how long must I wait, when it is colder or warmer than the sheet says?",
        (
            Field(
                "today", "Temperature today", Kind.TEMPERATURE, hint="Of the components and the mold, not the street."
            ),
            Field("pot-life", "Pot life on the sheet", Kind.TIME),
            Field("reserve", "Kept of it for pouring", Kind.TIME, "0 s"),
            Field("demold", "Demold on the sheet", Kind.TIME, optional=True, bare="h"),
            Field("full-cure", "Full cure on the sheet", Kind.TIME, optional=True, bare="h"),
            *_DRIVES,
            Field(
                "table",
                "Pot lives at other temperatures",
                Kind.LINES,
                optional=True,
                hint="Where the sheet has a table, one a line: 30 °C 12 min. It counts before any energy.",
            ),
        ),
        _today,
        _of_material,
    ),
    Worksheet(
        "pot-life-mass",
        "Pot life of a larger batch",
        "The sheet says 100 g: how long does my cup live?",
        (
            Field("mass", "Mix in one cup", Kind.MASS),
            Field("pot-life", "Pot life on the sheet", Kind.TIME),
            Field("stated-mass", "It holds for", Kind.MASS, optional=True, hint="Mostly 100 g."),
            Field("table", "Other masses on the sheet", Kind.LINES, optional=True, hint="One a line: 500 g 11 min."),
        ),
        _mass,
        _mass_of_material,
    ),
    Worksheet(
        "age-by-log",
        "Age of a cure by its temperatures",
        "It was cold over night: is it ready?",
        (
            Field("log", "What it went through", Kind.LINES, hint="One spell a line, the first first: 2 h 18 °C."),
            Field("demold", "Demold on the sheet", Kind.TIME, bare="h"),
            *_DRIVES,
        ),
        _log,
        _log_of_material,
    ),
)
