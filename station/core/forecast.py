"""What time a cast has at today's temperature and mass: the pot life its clock counts to, and what to tell of it."""

from __future__ import annotations

from dataclasses import dataclass

from station.casting.kinetics import Rate, Unknown
from station.casting.potlife import of_mass
from station.core.drive import cure_kinetics, pot_kinetics
from station.core.material import Material
from station.core.spans import about, between, span
from station.texts import number, t

NEAR_C = 1.0
"""Closer to the reference temperature than this, temperature is not worth a word."""


@dataclass(frozen=True, slots=True)
class Forecast:
    """`pot_life_s` is what to count with; `impossible` says why even the longest is too short to mix and pour.

    `warnings` tell of what nobody can promise; `notes` only how the times change.
    """

    pot_life_s: float
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    impossible: str = ""


def forecast(material: Material, total_g: float, celsius: float | None) -> Forecast:
    """The pot life of `total_g` at `celsius`: the shortest of its range, never longer than the sheet's own word.

    Only a row of the sheet's own table of temperatures may lengthen it; an energy or a rule may only shorten it.
    """
    times = material.times
    by_mass = of_mass(
        total_g,
        times.pot_life_s,
        times.pot_life_g,
        tuple((one.mass_g, one.pot_life_s) for one in times.pot_life_by_mass),
    )
    notes = [by_mass.words] if by_mass.sure and by_mass.seconds != times.pot_life_s else []
    warned = [] if by_mass.sure else [by_mass.words]
    limit = longest = by_mass.seconds
    if celsius is not None:
        kinetics = pot_kinetics(material)
        found = kinetics.rate(celsius)
        limit = kinetics.limit(by_mass.seconds, celsius)
        if isinstance(found, Unknown):
            warned.append(found.why)
            if celsius > times.reference_c:
                warned.append(
                    t(
                        "The pot life is shorter than the {limit} that its clock counts to. Be quick.",
                        limit=about(limit),
                    )
                )
        else:
            longest = found.longest(by_mass.seconds)
            shortest = found.shortest(by_mass.seconds)
            if abs(celsius - times.reference_c) > NEAR_C:
                notes.append(
                    t(
                        "Pot life at {celsius} °C: {shortest} instead of {seconds} at {reference_c} °C. The clock "
                        "counts to {limit}.",
                        celsius=number(celsius, ".1f"),
                        shortest=between(shortest, longest),
                        seconds=about(by_mass.seconds),
                        reference_c=number(times.reference_c),
                        limit=about(limit),
                    )
                )
        demold, unsure = _demold_words(material, celsius)
        notes += demold
        warned += unsure
    need = times.mix_s + times.pour_reserve_s
    impossible = ""
    if max(limit, longest) < need:
        impossible = t(
            "The pot life is {longest} s at this temperature and mass; mixing {mix_s} s and pouring "
            "{pour_reserve_s} s take {need} s. Cool the components as the sheet allows, or plan less.",
            longest=f"{max(limit, longest):.0f}",
            mix_s=f"{times.mix_s:.0f}",
            pour_reserve_s=f"{times.pour_reserve_s:.0f}",
            need=f"{need:.0f}",
        )
    elif limit < need:
        warned.append(
            t(
                "It may be too short: {limit} s at worst; mixing and pouring take {need} s. Try a small cup first.",
                limit=f"{limit:.0f}",
                need=f"{need:.0f}",
            )
        )
    return Forecast(limit, tuple(warned), tuple(notes), impossible)


def _demold_words(material: Material, celsius: float) -> tuple[list[str], list[str]]:
    """How demold moves, and what cannot be said of it."""
    times = material.times
    found = cure_kinetics(material).rate(celsius)
    if isinstance(found, Rate):
        if abs(celsius - times.reference_c) <= NEAR_C:
            return [], []
        low, high = found.shortest(times.demold_s), found.longest(times.demold_s)
        return [
            t(
                "Demold at {celsius} °C: {low} instead of {demold_s}; the clock counts the temperature and takes the "
                "longest.",
                celsius=number(celsius, ".1f"),
                low=between(low, high),
                demold_s=span(times.demold_s),
            )
        ], []
    if found.cold:
        return [], [t("Demold is not predicted: while it is this cold the cure counts nothing.")]
    return [], [t("Demold may take longer than its clock counts.")] if celsius < times.reference_c else []
