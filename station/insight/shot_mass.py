"""The shot mass for a wanted density, from the parts that were weighed: inverse prediction with Fieller's interval.

As long as a mold fills, density = shot ÷ cavity less what is lost, so a line through the origin is the first law; an
offset is taken in only when the casts show one. Temperature counts from the first cast on, with a weak prior: as if one
more part, made `PRIOR_C` away from the mean, had shown no change. That is a normal prior of standard deviation
s / `PRIOR_C` per °C on its coefficient (conjugate prior as data: Gelman and others, Bayesian Data Analysis, 14.8, from
memory); our own choice. The interval is that of Fieller 1954 (J. R. Statist. Soc. B 16, 175), which is exact for a line
with normal errors and has no end where the slope is unclear.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from station.core.judging_events import DefectKind
from station.errors import Refused
from station.insight.facts import CastFacts
from station.insight.least_squares import Fit, Vector, least_squares
from station.texts import N_, t

LEAST = 3
OFFSET_LEAST = 8
"""So many casts before an offset is looked for."""
OFFSET_P = 0.01
"""An offset must be this clear: it is looked for in every fit, and a wrong one costs more than a missing one."""
PRIOR_C = 2.0


class Law(Enum):
    """What the density was found to follow."""

    PROPORTIONAL = N_("density = k × shot")
    LINE = N_("density = a + k × shot")
    PROPORTIONAL_WARM = N_("density = k × shot + c × temperature")
    LINE_WARM = N_("density = a + k × shot + c × temperature")


class Shot(Enum):
    """Which mass is meant. The value is its name in words."""

    IN_MOLD = N_("mass in the mold")
    MIXED = N_("mass mixed")


@dataclass(frozen=True, slots=True)
class ShotAdvice:
    """The `shot` in g for `density` (g/cm³), with its interval; `casts` it comes from, and the law they follow.

    `next_low` and `next_high`: where the density of the next part at this shot will lie, 19 times in 20.
    `seen_low` and `seen_high`: shots that were cast; advice outside them is a guess. `celsius` is the temperature it
    holds for, None when the law has none.
    """

    shot: Shot
    density: float
    shot_g: float
    low_g: float
    high_g: float
    law: Law
    casts: tuple[int, ...]
    next_low: float
    next_high: float
    seen_low: float
    seen_high: float
    celsius: float | None

    @property
    def outside(self) -> bool:
        """Whether the shot lies beyond those that were cast."""
        return not self.seen_low <= self.shot_g <= self.seen_high


def usable(casts: Sequence[CastFacts]) -> tuple[Shot, tuple[tuple[CastFacts, float], ...]]:
    """Casts whose density is known and whose mold was full, each with its shot in g.

    The mass in the mold, where enough emptied cups were weighed to know it; else the mass that was mixed.
    """
    full = [
        cast for cast in casts if cast.density_g_cm3 and all(o.kind is not DefectKind.SHORT_SHOT for o in cast.defects)
    ]
    in_mold = tuple((cast, cast.shot_g) for cast in full if cast.shot_g)
    mixed = tuple((cast, cast.mixed_g) for cast in full if cast.mixed_g)
    if len(in_mold) >= LEAST and 2 * len(in_mold) >= len(mixed):
        return Shot.IN_MOLD, in_mold
    return Shot.MIXED, mixed


def shot_for_density(casts: Sequence[CastFacts], density: float, celsius: float | None = None) -> ShotAdvice:
    """The shot for a density (g/cm³) of parts from ONE mold and material, at `celsius`.

    Raises Refused with too few weighed parts, or when they do not tell a shot.
    """
    which, used = usable(casts)
    if len(used) < LEAST:
        raise Refused(
            t("{n} full parts with a known shot are weighed; it takes {least}.", n=len(used), least=LEAST),
            t("Weigh the parts of the next casts."),
        )
    shots = np.array([shot for _, shot in used], dtype=float)
    densities = np.array([cast.density_g_cm3 for cast, _ in used], dtype=float)
    degrees = np.array([math.nan if c.temperature_c is None else c.temperature_c for c, _ in used], dtype=float)
    law, fit, middle = _law(shots, densities, degrees if celsius is not None else np.full(len(used), math.nan))
    warm = law in (Law.PROPORTIONAL_WARM, Law.LINE_WARM)
    fixed = _rest(law, (celsius or 0.0) - middle)
    along = np.zeros(fit.beta.size)
    along[0] = 1.0
    found = fieller(fit, along, fixed, density)
    if found is None:
        raise Refused(
            t("These casts do not tell which shot gives that density: it hardly changed with the shot."),
            t("Cast the next parts with clearly different shots."),
        )
    shot, low, high = found
    _, next_low, next_high = fit.single(fixed + shot * along)
    return ShotAdvice(
        which,
        density,
        shot,
        low,
        high,
        law,
        tuple(cast.number for cast, _ in used),
        next_low,
        next_high,
        float(shots.min()),
        float(shots.max()),
        celsius if warm else None,
    )


def fieller(
    fit: Fit, along: Vector, fixed: Vector, wanted: float, level: float = 0.95
) -> tuple[float, float, float] | None:
    """x and its interval where the mean at row `fixed + x along` is `wanted`; None when the interval has no end.

    The x for which (wanted - row beta)² is at most t² s² row C row: between the roots of a quadratic.
    """
    slope, rest = float(along @ fit.beta), wanted - float(fixed @ fit.beta)
    square = (fit.t_quantile(level) * fit.s) ** 2
    aa, af, ff = (float(one @ fit.unscaled @ other) for one, other in ((along, along), (along, fixed), (fixed, fixed)))
    a, half_b, c = slope**2 - square * aa, slope * rest + square * af, rest**2 - square * ff
    if a <= 0:
        return None
    root = math.sqrt(max(0.0, half_b**2 - a * c))  # with a > 0 below zero only by rounding: rest / slope is inside
    return rest / slope, (half_b - root) / a, (half_b + root) / a


def _rows(law: Law, shots: Vector, warm: Vector) -> Vector:
    columns = {
        Law.PROPORTIONAL: [shots],
        Law.LINE: [shots, np.ones_like(shots)],
        Law.PROPORTIONAL_WARM: [shots, warm],
        Law.LINE_WARM: [shots, np.ones_like(shots), warm],
    }
    return np.column_stack(columns[law])


def _rest(law: Law, warm: float) -> Vector:
    """The row without its shot."""
    row: Vector = _rows(law, np.zeros(1), np.array([warm]))[0]
    return row


def _law(shots: Vector, densities: Vector, degrees: Vector) -> tuple[Law, Fit, float]:
    """The simplest law that the casts do not contradict, its fit, and the temperature that it counts from."""
    known = not np.isnan(degrees).any()
    middle = float(degrees.mean()) if known else 0.0
    simple, richer = (Law.PROPORTIONAL_WARM, Law.LINE_WARM) if known else (Law.PROPORTIONAL, Law.LINE)

    def fitted(law: Law) -> Fit | None:
        rows = _rows(law, shots, degrees - middle)
        if not known:
            return least_squares(rows, densities)
        prior = np.zeros((1, rows.shape[1]))
        prior[0, -1] = PRIOR_C
        return least_squares(np.vstack([rows, prior]), np.append(densities, 0.0))

    fit = fitted(simple)
    assert fit is not None
    if shots.size >= OFFSET_LEAST:
        line = fitted(richer)
        if line is not None and line.p(1) < OFFSET_P:
            return richer, line, middle
    return simple, fit, middle
