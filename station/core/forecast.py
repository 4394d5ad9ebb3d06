"""What time a cast has at today's temperature and mass: the pot life its clock counts to, and what to tell of it."""

from __future__ import annotations

from dataclasses import dataclass

from station.casting.kinetics import Rate, Unknown
from station.casting.potlife import of_mass
from station.core.drive import cure_kinetics, pot_kinetics
from station.core.material import Material
from station.core.spans import about, between, span

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
                warned.append(f"The pot life is shorter than the {about(limit)} that its clock counts to. Be quick.")
        else:
            longest = found.longest(by_mass.seconds)
            shortest = found.shortest(by_mass.seconds)
            if abs(celsius - times.reference_c) > NEAR_C:
                notes.append(
                    f"Pot life at {celsius:.1f} °C: {between(shortest, longest)} instead of {about(by_mass.seconds)} "
                    f"at {times.reference_c:g} °C. The clock counts to {about(limit)}."
                )
        demold, unsure = _demold_words(material, celsius)
        notes += demold
        warned += unsure
    need = times.mix_s + times.pour_reserve_s
    impossible = ""
    if max(limit, longest) < need:
        impossible = (
            f"The pot life is {max(limit, longest):.0f} s at this temperature and mass; mixing {times.mix_s:.0f} s "
            f"and pouring {times.pour_reserve_s:.0f} s take {need:.0f} s. Cool the components as the sheet allows, or "
            "plan less."
        )
    elif limit < need:
        warned.append(
            f"It may be too short: {limit:.0f} s at worst; mixing and pouring take {need:.0f} s. Try a small cup first."
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
            f"Demold at {celsius:.1f} °C: {between(low, high)} instead of {span(times.demold_s)}; the clock counts "
            "the temperature and takes the longest."
        ], []
    if found.cold:
        return [], ["Demold is not predicted: while it is this cold the cure counts nothing."]
    return [], ["Demold may take longer than its clock counts."] if celsius < times.reference_c else []
