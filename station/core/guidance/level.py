"""Level: mass and flow that the readings mean, by a Kalman filter of two states.

The state is the level that the scale shows and its slope. The scale's lag is not modelled: a steady flow q shows
q x lag too little, and that belongs to what still comes after a stop, which is learned (`runon`).
Constant-velocity model with white acceleration: Bar-Shalom, Li, Kirubarajan, Estimation with Applications to
Tracking and Navigation (2001), section 6.3.2 (equations from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

FINE_D_G = 0.02
ROUGH_G, FINE_ROUGH_G = 0.02, 0.008
"""Noise of the reading beside its rounding, on ordinary and on fine scales (common practice, no source)."""

UNSTEADY = 0.45
"""How fast a hand changes its flow: relative, per root second."""

SURPRISE = 12.0
"""An innovation that is so many times its variance, squared, means that the flow has changed, not the noise."""

NEWER, MOST_S = 0.05, 0.5
"""How much of a new period is taken over at once, and the longest one that counts, in seconds."""


@dataclass(frozen=True, slots=True)
class Level:
    """At `at_s` the scale means `mass_g`, rising by `flow_g_s`; variances of both and what joins them.

    `period_s` is what usually lies between two readings.
    """

    at_s: float
    mass_g: float
    flow_g_s: float
    var_mass: float
    covar: float
    var_flow: float
    period_s: float = 0.0

    def at(self, at_s: float) -> float:
        """The mass that this line reaches at another time."""
        return self.mass_g + self.flow_g_s * (at_s - self.at_s)


def noise_var(d_g: float) -> float:
    """Variance of one reading in g²."""
    return (0.35 * d_g) ** 2 + (FINE_ROUGH_G if d_g < FINE_D_G else ROUGH_G) ** 2


def begun(at_s: float, net_g: float, d_g: float) -> Level:
    """The level from a first reading: at rest as far as anybody knows."""
    return Level(at_s, net_g, 0.0, noise_var(d_g), 0.0, (3 * d_g) ** 2)


def told(level: Level, at_s: float, net_g: float, d_g: float) -> Level:
    """The level after one more reading; `level` itself where time has not gone on."""
    dt = at_s - level.at_s
    if dt <= 0:
        return level
    # Lines that a busy machine or a converter holds back come late and in a bunch: their times are no better than so.
    period = dt if level.period_s <= 0 else level.period_s + NEWER * (min(dt, MOST_S) - level.period_s)
    late = min(abs(dt - period), MOST_S)
    noise = noise_var(d_g) + (late * level.flow_g_s) ** 2
    drive = (UNSTEADY * max(abs(level.flow_g_s), 0.3 * d_g)) ** 2
    mass = level.mass_g + level.flow_g_s * dt
    var_mass = level.var_mass + 2 * dt * level.covar + dt * dt * level.var_flow + drive * dt**3 / 3
    covar = level.covar + dt * level.var_flow + drive * dt * dt / 2
    var_flow = level.var_flow + drive * dt
    off = net_g - mass
    spread = var_mass + noise
    if off * off > SURPRISE * spread:
        # What the flow must have done meanwhile is worth more than what was believed of it.
        jump = off * off / SURPRISE - spread
        var_mass += jump
        since = max(dt, period / 2)
        covar += jump / since
        var_flow += jump / (since * since)
        spread = var_mass + noise
    gain_mass, gain_flow = var_mass / spread, covar / spread
    return Level(
        at_s,
        mass + gain_mass * off,
        level.flow_g_s + gain_flow * off,
        (1 - gain_mass) * var_mass,
        (1 - gain_mass) * covar,
        var_flow - gain_flow * covar,
        period,
    )
