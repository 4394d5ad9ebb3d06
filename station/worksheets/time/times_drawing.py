"""Plots of time: pot life against temperature and mass, and a cure's age against the clock."""

from __future__ import annotations

from collections.abc import Sequence

from station.casting.kinetics import Kinetics, Rate
from station.drawing.marks import Drawing, Ink
from station.drawing.plot import Axis, Curve, Point, plot


def _unit(most_s: float) -> tuple[str, float]:
    return next(
        (unit, worth) for unit, worth in (("h", 3600.0), ("min", 60.0), ("s", 1.0)) if most_s >= 2 * worth or worth == 1
    )


def temperature_plot(kinetics: Kinetics, stated_s: float, today_c: float) -> Drawing:
    """Pot life against temperature as a band, with today's shortest."""
    low = max(min(today_c, kinetics.reference_c) - 8, kinetics.coldest_c if kinetics.coldest_c is not None else -50)
    high = min(max(today_c, kinetics.reference_c) + 8, kinetics.warmest_c if kinetics.warmest_c is not None else 150)
    found = [(low + (high - low) * i / 40, kinetics.rate(low + (high - low) * i / 40)) for i in range(41)]
    known = [(at, rate) for at, rate in found if isinstance(rate, Rate)]
    unit, worth = _unit(stated_s)
    shortest = [(at, rate.shortest(stated_s) / worth) for at, rate in known]
    longest = [(at, rate.longest(stated_s) / worth) for at, rate in known]
    today = kinetics.rate(today_c)
    assert isinstance(today, Rate)
    now = today.shortest(stated_s) / worth
    return plot(
        "Pot life against temperature",
        f"Pot life falls from {longest[0][1]:.3g} {unit} at {known[0][0]:.0f} °C to {shortest[-1][1]:.3g} {unit} at "
        f"{known[-1][0]:.0f} °C; at {today_c:g} °C it is {now:.3g} {unit} at the shortest.",
        Axis("temperature, °C", known[0][0], known[-1][0]),
        Axis(f"pot life, {unit}", 0, max(y for _, y in longest) * 1.1),
        (Curve(tuple(longest), "longest", Ink.DASHED), Curve(tuple(shortest), "shortest")),
        points=(Point(today_c, now, f"{now:.3g} {unit}"),),
        band=(shortest, longest),
    )


def mass_plot(table: Sequence[tuple[float, float]], mass_g: float, found_s: float) -> Drawing:
    """Pot life against mass on logarithms, with the person's own."""
    points = sorted(table)
    unit, worth = _unit(points[0][1])
    masses, lives = [m for m, _ in points] + [mass_g], [s / worth for _, s in points] + [found_s / worth]
    return plot(
        "Pot life against mass",
        f"From {points[0][1] / worth:.3g} {unit} for {points[0][0]:g} g to {points[-1][1] / worth:.3g} {unit} for "
        f"{points[-1][0]:g} g; {mass_g:g} g: {found_s / worth:.3g} {unit}.",
        Axis("mix in one cup, g", min(masses) / 1.3, max(masses) * 1.3, log=True),
        Axis(f"pot life, {unit}", min(lives) / 1.5, max(lives) * 1.5, log=True),
        (Curve(tuple((m, s / worth) for m, s in points)),),
        points=(Point(mass_g, found_s / worth, f"{found_s / worth:.3g} {unit}"),),
    )


def age_plot(spells: Sequence[tuple[float, Rate]], demold_s: float) -> Drawing:
    """Equivalent age against the clock by spells of (seconds, rate), with the demold time as a line to reach."""
    slow, fast, spent = [(0.0, 0.0)], [(0.0, 0.0)], 0.0
    for took, rate in spells:
        spent += took
        slow.append((spent / 3600, slow[-1][1] + took * rate.slow / 3600))
        fast.append((spent / 3600, fast[-1][1] + took * rate.fast / 3600))
    reach = demold_s / 3600
    most = max(reach, fast[-1][1], 0.01) * 1.15
    across = max(spent / 3600, 0.01)
    return plot(
        "Age against the clock",
        f"After {across:.3g} h the cure has aged {slow[-1][1]:.3g} to {fast[-1][1]:.3g} h; "
        f"demold asks for {reach:.3g} h.",
        Axis("clock, h", 0, across),
        Axis("age, h", 0, most),
        (Curve(((0, reach), (across, reach)), "demold", Ink.DASHED), Curve(tuple(slow))),
        points=(Point(across, slow[-1][1], f"{slow[-1][1]:.3g} h"),),
        band=(slow, fast),
    )
