"""Trust: what of a reading is believed while a stream is braked. A bump or a hand on the pan is no liquid.

A braking hand does not pour much faster than it did a moment ago, and liquid does not leave the cup.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.guidance.level import Level

AGO_S, KEPT_S = 0.6, 1.2
"""What is believed is held against the levels of so long ago; pushes are mostly shorter."""

FASTER = 1.4
"""A braking hand flows at most this times faster than then."""

RISING_S = 0.3
"""A stream that has just begun will by the stop have grown as much again as within so long before."""

DIP = 0.25
"""A flow backwards by less than this part of the flow before is the filter's swing after a stream that ended."""

Trail = tuple[Level, ...]


@dataclass(frozen=True, slots=True)
class Believed:
    """Grams and grams a second that the stop is reckoned from."""

    mass_g: float
    flow_g_s: float


def trailed(trail: Trail, level: Level) -> Trail:
    """The levels of late, with one more."""
    since = level.at_s - KEPT_S
    first = next((i for i, old in enumerate(trail) if old.at_s >= since), len(trail))
    return (*trail[first:], level)


def sustained_g_s(trail: Trail) -> float:
    """The flow that has lasted as long as the trail goes back, in g/s; 0 while that is too short to tell."""
    if trail[-1].at_s - trail[0].at_s < AGO_S:
        return 0.0
    return max(0.0, min(level.flow_g_s for level in trail))


def begun_anew(trail: Trail) -> Believed:
    """Mass and flow of a stream that begins, the flow as it will be in a moment; no guard can know it from a push."""
    level = trail[-1]
    before = next((old for old in reversed(trail) if old.at_s <= level.at_s - RISING_S), trail[0])
    flow = max(0.0, level.flow_g_s)
    return Believed(level.mass_g, flow + max(0.0, flow - max(0.0, before.flow_g_s)))


def believed(trail: Trail, d_g: float) -> Believed:
    """Mass and flow now, as far as a braking hand can have brought them."""
    level = trail[-1]
    mass, flow = level.mass_g, max(0.0, level.flow_g_s)
    then = [old for old in trail if old.at_s <= level.at_s - AGO_S]
    if not then:
        return Believed(mass, flow)
    before = max(0.0, min(old.flow_g_s for old in then))
    if level.flow_g_s < -max(d_g, DIP * before):
        # The load goes down, which liquid cannot: go by what was known before.
        return Believed(min(old.at(level.at_s) for old in then), before)
    return Believed(mass, min(flow, FASTER * before + 0.5 * d_g))
