"""Which densities a shot of foam is worked out with, and how each comes about."""

from __future__ import annotations

from station.casting.foam import Shot, free_rise_from_expansion, shot, shot_for
from station.errors import Refused
from station.texts import number, t
from station.worksheets.form import Values
from station.worksheets.plain import plain

SAME = 0.1
"""A free-rise density and an expansion that differ by more than this part contradict each other."""


def kg_m3(density: float) -> str:
    """A density in g/cm³ as foams are told: "96 kg/m³"."""
    return f"{plain(density * 1000, 4)} kg/m³"


def free_rise_of(values: Values) -> tuple[float | None, str]:
    """Free-rise density in g/cm³ and how it comes about; None when nothing is told of it.

    Raises Refused where what is told contradicts itself or is too little.
    """
    given, liquid, times = values["free-rise"], values["liquid"], values["expansion"]
    if times is None:
        return given, t("as typed")
    if liquid is None:
        if given is not None:
            return given, t("as typed")
        raise Refused(t("An expansion alone tells no density."), t("Type the density of the liquid mix as well."))
    other = free_rise_from_expansion(liquid, times)
    if given is None:
        return other, t("{density} of liquid ÷ {times}", density=kg_m3(liquid), times=number(times))
    if not given > 0 or abs(other / given - 1) > SAME:
        raise Refused(
            t(
                "A free-rise density of {given} and an expansion of {times} of a liquid of {liquid} g/cm³, which is "
                "{other}, cannot both be right.",
                given=kg_m3(given),
                times=number(times),
                liquid=number(liquid),
                other=kg_m3(other),
            ),
            t("Keep the one that your own free-rise cup shows."),
        )
    return given, t("as typed; the expansion says {other}", other=kg_m3(other))


def made_of(values: Values, free_rise: float | None) -> tuple[Shot, str]:
    """The shot and how its molded density comes about. Raises Refused where no density is known."""
    if values["molded"] is not None:
        made = shot_for(values["cavity"], values["molded"], free_rise=free_rise, loss_percent=values["loss"])
        return made, t("as typed")
    if free_rise is None:
        raise Refused(
            t("Neither a free-rise nor a molded density is known."),
            t("Type one of them, or the expansion together with the density of the liquid."),
        )
    made = shot(values["cavity"], free_rise, packing=values["packing"], loss_percent=values["loss"])
    return made, t("{density} free rise × {packing}", density=kg_m3(free_rise), packing=number(values["packing"]))
