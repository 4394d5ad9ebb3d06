"""Run-on: what still comes after the word "stop", learned as a line over the flow, with its spread.

At flow q there come a + b x q grams: lag of the scale, reaction, the closing hand, fall and tail together. For a
free-falling stream the force of the impact equals the weight of what is in flight, so nothing is added for that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from station.core.guidance.line import Line

REACTION_S = 0.5
"""From the cue to a closed hand, reaction and movement, before anything is known of a person (assumed)."""

ODD = 2.5
"""A miss of more standard deviations than that is taken for as many: a bump teaches little."""

FORGET = 0.97
"""What was learned weighs so much less with each pour: people get used to a bench."""

PERHAPS = 1.5
"""What was learned is in doubt by so much after a miss that cannot be believed."""

MOST_WEIGHT = 15.0


@dataclass(frozen=True, slots=True)
class RunOn:
    """The line (g over g/s), and the scatter about it in seconds of flow, as sure as after `weight` pours."""

    line: Line
    scatter_s: float
    weight: float
    pours: int = 0

    @property
    def time_s(self) -> float:
        """Seconds of flow that still come; what is left of the lag when scale, hand and stream are taken together."""
        return self.line.slope

    def comes(self, flow_g_s: float) -> float:
        """Grams still to come after a stop at this flow."""
        return self.line.at(flow_g_s)

    def var(self, flow_g_s: float) -> float:
        """Variance of that in g²: the scatter and the line's own doubt."""
        return (flow_g_s * self.scatter_s) ** 2 + self.line.doubt_var(flow_g_s)


def stranger(lag_s: float) -> RunOn:
    """What is assumed of a person, a liquid and a scale of which nothing but the lag is known."""
    time_s = lag_s + REACTION_S
    return RunOn(Line(0.05, time_s, 0.06**2, 0.0, 0.25**2), 0.04 + 0.12 * time_s, 4.0)


def taught(runon: RunOn, flow_g_s: float, came_g: float, floor_var: float) -> RunOn:
    """The run-on after a stop at `flow_g_s` was followed by `came_g`; `floor_var` g² is the noise of weighing."""
    flow = max(flow_g_s, 0.0)
    noise = floor_var + (flow * runon.scatter_s) ** 2
    doubt = runon.line.doubt_var(flow)
    spread = doubt + noise
    off, limit = came_g - runon.comes(flow), ODD * math.sqrt(spread)
    if abs(off) > 2 * limit:
        # A hand on the pan, most likely; if it was the person after all, the next lesson counts for more.
        return replace(runon, line=runon.line.doubted(PERHAPS))
    off = max(-limit, min(limit, off))
    line = runon.line.seen(flow, off, noise).doubted(1 / FORGET)
    if line.slope < 0:
        line = replace(line, slope=0.0)
    scatter, weight = runon.scatter_s, runon.weight
    if flow > 0:
        # The part of the miss that is scatter, given how far the line itself is in doubt (one step of EM).
        part = (off * noise / spread) ** 2 + noise * doubt / spread
        seen = max(0.0, part - floor_var) / (flow * flow)
        scatter = math.sqrt((weight * scatter * scatter + seen) / (weight + 1))
        weight = min(weight + 1, MOST_WEIGHT)
    return RunOn(line, scatter, weight, runon.pours + 1)
