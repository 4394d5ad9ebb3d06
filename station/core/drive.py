"""What drives the clocks of a cast: its material's kinetics, and how fast a cure counts at the bench's temperature."""

from __future__ import annotations

from station.casting.cure import cure_rate
from station.casting.kinetics import DEFAULT_KJ, Kinetics, Unknown
from station.core.material import Material
from station.core.standing import Cast, Standing
from station.texts import number, t

LEAST_WORTH_A_WORD = 0.03
"""A rate nearer to 1 than this is not worth telling."""


def pot_kinetics(material: Material) -> Kinetics:
    """What drives the pot life: the sheet's table of them, its activation energy, or the range of its chemistry."""
    times = material.times
    rows = ((row.celsius, row.pot_life_s) for row in times.at)
    return _kinetics(material, tuple((celsius, times.pot_life_s / s) for celsius, s in rows if s))


def cure_kinetics(material: Material) -> Kinetics:
    """What drives demold and full cure: the sheet's table of demold times, or as for the pot life."""
    times = material.times
    rows = ((row.celsius, row.demold_s) for row in times.at)
    return _kinetics(material, tuple((celsius, times.demold_s / s) for celsius, s in rows if s))


def _kinetics(material: Material, table: tuple[tuple[float, float], ...]) -> Kinetics:
    times = material.times
    low, high = DEFAULT_KJ.get(material.chemistry, (None, None))
    if times.activation_kj is not None:
        low = high = times.activation_kj
    return Kinetics(times.reference_c, low, high, times.coldest_c, times.warmest_c, table)


def rate_of(standing: Standing, cast: Cast) -> float:
    """Seconds of equivalent age that each second of this cast's cure counts for now."""
    return cure_rate(cure_kinetics(cast.plan.material), standing.temperature_c)


def counts_words(material: Material, celsius: float | None) -> str:
    """How the bench's temperature counts for a cure, as a sentence to go on with; empty where it changes nothing."""
    if celsius is None:
        return ""
    kinetics = cure_kinetics(material)
    rate, found = cure_rate(kinetics, celsius), kinetics.rate(celsius)
    if rate == 0:
        return t(
            " Too cold to cure: at {celsius} °C, below the sheet's {coldest_c} °C, nothing is counted. Warm it "
            "up as its sheet allows.",
            celsius=number(celsius, ".1f"),
            coldest_c=number(kinetics.coldest_c or 0.0),
        )
    same = abs(rate - 1) < LEAST_WORTH_A_WORD
    counts = (
        ""
        if same
        else t(
            " At {celsius} °C each hour counts as {rate} min.",
            celsius=number(celsius, ".1f"),
            rate=f"{60 * rate:.0f}",
        )
    )
    if isinstance(found, Unknown) and celsius < material.times.reference_c:
        return t("{counts} {why} It may need longer.", counts=counts, why=found.why)
    return counts
