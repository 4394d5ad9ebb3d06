"""Plots of time: pot life against temperature and mass, and a cure's age against the clock."""

from __future__ import annotations

from collections.abc import Sequence

from station.casting.kinetics import Kinetics, Rate
from station.drawing.marks import Drawing, Ink
from station.drawing.plot import Axis, Curve, Point, plot
from station.texts import number, t


def _unit(most_s: float) -> tuple[str, float]:
    return next(
        (unit, worth) for unit, worth in (("h", 3600.0), ("min", 60.0), ("s", 1.0)) if most_s >= 2 * worth or worth == 1
    )


def _in(unit: str, value: float) -> str:
    return f"{number(value, '.3g')} {unit}"


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
        t("Pot life against temperature"),
        t(
            "Pot life falls from {longest} at {coldest} °C to {shortest} at {warmest} °C; at {today} °C it is {now} at "
            "the shortest.",
            longest=_in(unit, longest[0][1]),
            coldest=f"{known[0][0]:.0f}",
            shortest=_in(unit, shortest[-1][1]),
            warmest=f"{known[-1][0]:.0f}",
            today=number(today_c),
            now=_in(unit, now),
        ),
        Axis(t("temperature, °C"), known[0][0], known[-1][0]),
        Axis(t("pot life, {unit}", unit=unit), 0, max(y for _, y in longest) * 1.1),
        (Curve(tuple(longest), t("longest"), Ink.DASHED), Curve(tuple(shortest), t("shortest"))),
        points=(Point(today_c, now, _in(unit, now)),),
        band=(shortest, longest),
    )


def mass_plot(table: Sequence[tuple[float, float]], mass_g: float, found_s: float) -> Drawing:
    """Pot life against mass on logarithms, with the person's own."""
    points = sorted(table)
    unit, worth = _unit(points[0][1])
    masses, lives = [m for m, _ in points] + [mass_g], [s / worth for _, s in points] + [found_s / worth]
    return plot(
        t("Pot life against mass"),
        t(
            "From {first} for {least} g to {last} for {most} g; {mass} g: {found}.",
            first=_in(unit, points[0][1] / worth),
            least=number(points[0][0]),
            last=_in(unit, points[-1][1] / worth),
            most=number(points[-1][0]),
            mass=number(mass_g),
            found=_in(unit, found_s / worth),
        ),
        Axis(t("mix in one cup, g"), min(masses) / 1.3, max(masses) * 1.3, log=True),
        Axis(t("pot life, {unit}", unit=unit), min(lives) / 1.5, max(lives) * 1.5, log=True),
        (Curve(tuple((m, s / worth) for m, s in points)),),
        points=(Point(mass_g, found_s / worth, _in(unit, found_s / worth)),),
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
        t("Age against the clock"),
        t(
            "After {spent} h the cure has aged {slow} to {fast} h; demold asks for {reach} h.",
            spent=number(across, ".3g"),
            slow=number(slow[-1][1], ".3g"),
            fast=number(fast[-1][1], ".3g"),
            reach=number(reach, ".3g"),
        ),
        Axis(t("clock, h"), 0, across),
        Axis(t("age, h"), 0, most),
        (Curve(((0, reach), (across, reach)), t("demold"), Ink.DASHED), Curve(tuple(slow))),
        points=(Point(across, slow[-1][1], _in("h", slow[-1][1])),),
        band=(slow, fast),
    )
