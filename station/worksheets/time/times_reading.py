"""What is typed into a worksheet of time: what drives the times, and lines of temperatures, masses and spells."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from station.casting.chemistry import Chemistry
from station.casting.kinetics import DEFAULT_KJ, Kinetics
from station.errors import Refused
from station.quantities import celsius, grams, seconds
from station.worksheets.form import Values

BENCH_C = (-40.0, 200.0)
ENERGY_KJ = (5.0, 200.0)
"""What a sheet's energy may be; every published one of a casting system lies well inside."""


def check(values: Values) -> None:
    """Raises Refused for temperatures, energies and times that no bench has."""
    named = (
        ("today", "today"),
        ("reference", "the sheet's temperature"),
        ("coldest", "the coldest"),
        ("warmest", "the warmest"),
    )
    for key, name in named:
        if values.get(key) is not None:
            on_the_bench(values[key], name)
    energy = values["activation"]
    if energy is not None and not ENERGY_KJ[0] <= energy <= ENERGY_KJ[1]:
        raise Refused(
            f"An activation energy of {energy:g} kJ/mol is none of a casting system.",
            f"Give one from {ENERGY_KJ[0]:g} to {ENERGY_KJ[1]:g} kJ/mol, or leave it empty.",
        )
    coldest, warmest = values["coldest"], values["warmest"]
    if coldest is not None and warmest is not None and not coldest < warmest:
        raise Refused(f"The coldest, {coldest:g} °C, is not below the warmest, {warmest:g} °C.", "Look which is which.")
    for key, name in (("pot-life", "pot life"), ("demold", "demold time"), ("full-cure", "full cure")):
        if values.get(key) is not None:
            above_zero(values[key], f"A {name}")


def on_the_bench(degrees: float, name: str) -> None:
    """Raises Refused for a temperature that no casting bench has."""
    if not BENCH_C[0] <= degrees <= BENCH_C[1]:
        raise Refused(
            f"{degrees:g} °C for {name} is no temperature to cast at.",
            f"Give one from {BENCH_C[0]:g} to {BENCH_C[1]:g} °C.",
        )


def above_zero(took_s: float, name: str) -> None:
    """Raises Refused for a time that is not above zero."""
    if took_s <= 0:
        raise Refused(f"{name} of {took_s:g} s is none.", "Give a time above zero.")


def pot_kinetics(values: Values) -> tuple[Kinetics, str]:
    """What drives the pot life, and words on where that is known from."""
    return _kinetics(values, _rates(values["table"], values["pot-life"]))


def cure_kinetics(values: Values) -> tuple[Kinetics, str]:
    """What drives demold and full cure, and words on where that is known from."""
    lines, stated = values["demold-table"], values["demold"]
    if lines and stated is None:
        raise Refused("There are demold times at other temperatures and none on the sheet.", "Fill in that one too.")
    return _kinetics(values, _rates(lines, stated or 0.0))


def _rates(lines: Sequence[str], stated_s: float) -> tuple[tuple[float, float], ...]:
    return tuple((at, stated_s / took) for at, took in map(temperature_line, lines))


def _kinetics(values: Values, table: tuple[tuple[float, float], ...]) -> tuple[Kinetics, str]:
    chemistry = Chemistry(values["chemistry"])
    low, high = DEFAULT_KJ.get(chemistry, (None, None))
    said = "the sheet's own time: nothing says how temperature drives it"
    if values["activation"] is not None:
        low = high = values["activation"]
        said = f"{low:g} kJ/mol from its sheet"
    elif low is not None:
        said = f"{low:g} to {high:g} kJ/mol, the range for {chemistry.value}"
    if table:
        said = "the sheet's own table"
    return Kinetics(values["reference"], low, high, values["coldest"], values["warmest"], table), said


def temperature_line(line: str) -> tuple[float, float]:
    """ "30 °C 12 min": a temperature in °C and a time in seconds."""
    degrees, took = _cut(
        line,
        lambda text: celsius(text, bare="°C"),
        lambda text: seconds(text, bare="min"),
        "a temperature with a time",
        "30 °C 12 min",
    )
    on_the_bench(degrees, f"{line!r}")
    above_zero(took, "A time")
    return degrees, took


def mass_line(line: str) -> tuple[float, float]:
    """ "500 g 11 min": a mass in g and its pot life in seconds."""
    return _cut(
        line,
        lambda text: grams(text, bare="g"),
        lambda text: seconds(text, bare="min"),
        "a mass with its pot life",
        "500 g 11 min",
    )


def spell_line(line: str) -> tuple[float, float]:
    """ "2 h 18 °C": seconds, and the temperature in °C all that time."""
    took, degrees = _cut(
        line, seconds, lambda text: celsius(text, bare="°C"), "a time with its temperature", "2 h 18 °C"
    )
    above_zero(took, "A spell")
    on_the_bench(degrees, f"{line!r}")
    return took, degrees


def _cut(
    line: str, first: Callable[[str], float], second: Callable[[str], float], what: str, example: str
) -> tuple[float, float]:
    words = line.replace("=", " ").replace(": ", " ").replace(", ", " ").split()
    for at in range(1, len(words)):
        try:
            return first(" ".join(words[:at])), second(" ".join(words[at:]))
        except ValueError:
            continue
    raise Refused(f"{line!r} is not {what}.", f'Write it as "{example}".')


def rising(table: Sequence[tuple[float, float]], unit: str) -> str:
    """A warning where a larger mass or temperature has a longer time, which no reaction has, or two times; else ""."""
    for (less, sooner), (more, later) in pairwise(sorted(table)):
        if less == more and later != sooner:
            return f"Two pot lives are given for {more:g} {unit}. Look at the lines again."
        if later > sooner:
            return (
                f"By these figures the pot life at {more:g} {unit} is longer than at {less:g} {unit}: it should be "
                "shorter. Look at the lines again."
            )
    return ""
