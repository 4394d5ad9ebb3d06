"""What is typed into a worksheet of time: what drives the times, and lines of temperatures, masses and spells."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from station.casting.chemistry import Chemistry
from station.casting.kinetics import DEFAULT_KJ, Kinetics
from station.errors import Refused
from station.quantities import celsius, grams, seconds
from station.texts import N_, number, t
from station.worksheets.form import Values

BENCH_C = (-40.0, 200.0)
ENERGY_KJ = (5.0, 200.0)
"""What a sheet's energy may be; every published one of a casting system lies well inside."""
_NO_TEMPERATURE = {
    "today": N_("{degrees} °C for today is no temperature to cast at."),
    "reference": N_("{degrees} °C for the sheet's temperature is no temperature to cast at."),
    "coldest": N_("{degrees} °C for the coldest is no temperature to cast at."),
    "warmest": N_("{degrees} °C for the warmest is no temperature to cast at."),
}
_NO_TIME = {
    "pot-life": N_("A pot life of {seconds} s is none."),
    "demold": N_("A demold time of {seconds} s is none."),
    "full-cure": N_("A full cure of {seconds} s is none."),
}
_IN_A_LINE = N_("{degrees} °C for {line} is no temperature to cast at.")
_SPELL_OF_NOTHING, _TIME_OF_NOTHING = N_("A spell of {seconds} s is none."), N_("A time of {seconds} s is none.")


def check(values: Values) -> None:
    """Raises Refused for temperatures, energies and times that no bench has."""
    for key, wrong in _NO_TEMPERATURE.items():
        if values.get(key) is not None:
            _on_the_bench(values[key], wrong)
    energy = values["activation"]
    if energy is not None and not ENERGY_KJ[0] <= energy <= ENERGY_KJ[1]:
        raise Refused(
            t("An activation energy of {energy} kJ/mol is none of a casting system.", energy=number(energy)),
            t(
                "Give one from {least} to {most} kJ/mol, or leave it empty.",
                least=number(ENERGY_KJ[0]),
                most=number(ENERGY_KJ[1]),
            ),
        )
    coldest, warmest = values["coldest"], values["warmest"]
    if coldest is not None and warmest is not None and not coldest < warmest:
        raise Refused(
            t(
                "The coldest, {coldest} °C, is not below the warmest, {warmest} °C.",
                coldest=number(coldest),
                warmest=number(warmest),
            ),
            t("Look which is which."),
        )
    for key, wrong in _NO_TIME.items():
        if values.get(key) is not None:
            _above_zero(values[key], wrong)


def _on_the_bench(degrees: float, wrong: str, **named: str) -> None:
    """Raises Refused, saying `wrong`, for a temperature that no casting bench has."""
    if not BENCH_C[0] <= degrees <= BENCH_C[1]:
        raise Refused(
            t(wrong, degrees=number(degrees), **named),
            t("Give one from {least} to {most} °C.", least=number(BENCH_C[0]), most=number(BENCH_C[1])),
        )


def _above_zero(took_s: float, wrong: str) -> None:
    """Raises Refused, saying `wrong`, for a time that is not above zero."""
    if took_s <= 0:
        raise Refused(t(wrong, seconds=number(took_s)), t("Give a time above zero."))


def pot_kinetics(values: Values) -> tuple[Kinetics, str]:
    """What drives the pot life, and words on where that is known from."""
    return _kinetics(values, _rates(values["table"], values["pot-life"]))


def cure_kinetics(values: Values) -> tuple[Kinetics, str]:
    """What drives demold and full cure, and words on where that is known from."""
    lines, stated = values["demold-table"], values["demold"]
    if lines and stated is None:
        raise Refused(
            t("There are demold times at other temperatures and none on the sheet."), t("Fill in that one too.")
        )
    return _kinetics(values, _rates(lines, stated or 0.0))


def _rates(lines: Sequence[str], stated_s: float) -> tuple[tuple[float, float], ...]:
    return tuple((at, stated_s / took) for at, took in map(temperature_line, lines))


def _kinetics(values: Values, table: tuple[tuple[float, float], ...]) -> tuple[Kinetics, str]:
    chemistry = Chemistry(values["chemistry"])
    low, high = DEFAULT_KJ.get(chemistry, (None, None))
    said = t("the sheet's own time: nothing says how temperature drives it")
    if values["activation"] is not None:
        low = high = values["activation"]
        said = t("{energy} kJ/mol from its sheet", energy=number(low))
    elif low is not None and high is not None:
        said = t(
            "{low} to {high} kJ/mol, the range for {chemistry}",
            low=number(low),
            high=number(high),
            chemistry=t(chemistry.value),
        )
    if table:
        said = t("the sheet's own table")
    return Kinetics(values["reference"], low, high, values["coldest"], values["warmest"], table), said


def temperature_line(line: str) -> tuple[float, float]:
    """ "30 °C 12 min": a temperature in °C and a time in seconds."""
    degrees, took = _cut(
        line,
        lambda text: celsius(text, bare="°C"),
        lambda text: seconds(text, bare="min"),
        N_('{line} is not a temperature with a time. Write it as "30 °C 12 min".'),
    )
    _on_the_bench(degrees, _IN_A_LINE, line=repr(line))
    _above_zero(took, _TIME_OF_NOTHING)
    return degrees, took


def mass_line(line: str) -> tuple[float, float]:
    """ "500 g 11 min": a mass in g and its pot life in seconds."""
    return _cut(
        line,
        lambda text: grams(text, bare="g"),
        lambda text: seconds(text, bare="min"),
        N_('{line} is not a mass with its pot life. Write it as "500 g 11 min".'),
    )


def spell_line(line: str) -> tuple[float, float]:
    """ "2 h 18 °C": seconds, and the temperature in °C all that time."""
    took, degrees = _cut(
        line,
        seconds,
        lambda text: celsius(text, bare="°C"),
        N_('{line} is not a time with its temperature. Write it as "2 h 18 °C".'),
    )
    _above_zero(took, _SPELL_OF_NOTHING)
    _on_the_bench(degrees, _IN_A_LINE, line=repr(line))
    return took, degrees


def _cut(line: str, first: Callable[[str], float], second: Callable[[str], float], wrong: str) -> tuple[float, float]:
    words = line.replace("=", " ").replace(": ", " ").replace(", ", " ").split()
    for at in range(1, len(words)):
        try:
            return first(" ".join(words[:at])), second(" ".join(words[at:]))
        except ValueError:
            continue
    raise Refused(t(wrong, line=repr(line)))


def rising(table: Sequence[tuple[float, float]], unit: str) -> str:
    """A warning where a larger mass or temperature has a longer time, which no reaction has, or two times; else ""."""
    for (less, sooner), (more, later) in pairwise(sorted(table)):
        if less == more and later != sooner:
            return t("Two pot lives are given for {more}. Look at the lines again.", more=f"{number(more)} {unit}")
        if later > sooner:
            return t(
                "By these figures the pot life at {more} is longer than at {less}: it should be shorter. Look at the "
                "lines again.",
                more=f"{number(more)} {unit}",
                less=f"{number(less)} {unit}",
            )
    return ""
