"""Pictures of a cast's sheet: how a component lies in its tolerance, and how it was poured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from station.core.guiding import NEAR_PART
from station.core.mass import Mass
from station.core.trace import Points
from station.drawing.marks import Box, Dot, Drawing, Ink, Line, Mark
from station.drawing.plot import Axis, Curve, Point, plot
from station.phone.words import mass_text
from station.records import WeighingRecord
from station.texts import t

_WIDE, _HIGH = 220.0, 30.0
_MIDDLE = _WIDE / 2
_ALLOWED = 70.0
"""Half the width of the band; what lies beyond one and a half times the tolerance stands at the edge."""


class Traces(Protocol):
    """Where the weighing traces are. Raises Fault for one that cannot be read."""

    def trace(self, number: int, step: int) -> Points | None:
        """What the scale showed in a step."""
        ...


def part_of_tolerance(actual: Mass, target: Mass, low: Mass, high: Mass) -> float | None:
    """Deviation in parts of what is allowed on its side: ±1 at the edges of the band; None for a band of no width."""
    off = actual - target
    allowed = (high - target) if off.mg > 0 else (target - low)
    if allowed.mg <= 0:
        return 0.0 if off.mg == 0 else None
    return off.mg / allowed.mg


def tolerance_picture(part: float, spoken: str) -> Drawing:
    """A pale band for what is allowed, a stroke for the target, and the heaviest mark where it came to lie."""
    x = _MIDDLE + _ALLOWED * min(1.45, max(-1.45, part))
    marks: tuple[Mark, ...] = (
        Line(4, _HIGH / 2, _WIDE - 4, _HIGH / 2, Ink.FAINT),
        Box(_MIDDLE - _ALLOWED, 6, 2 * _ALLOWED, _HIGH - 12, Ink.BAND),
        Line(_MIDDLE - _ALLOWED, 3, _MIDDLE - _ALLOWED, _HIGH - 3, Ink.OUTLINE),
        Line(_MIDDLE + _ALLOWED, 3, _MIDDLE + _ALLOWED, _HIGH - 3, Ink.OUTLINE),
        Line(_MIDDLE, 6, _MIDDLE, _HIGH - 6, Ink.DASHED),
        Dot(x, _HIGH / 2, 6),
    )
    return Drawing(spoken, spoken, _WIDE, _HIGH, marks)


def pour_title(weighing: WeighingRecord) -> str:
    """What was poured into which cup."""
    if weighing.cup.endswith("cup"):
        return t("{ingredient} into the {cup}", ingredient=weighing.ingredient, cup=t(weighing.cup))
    return t("{ingredient} into cup {cup}", ingredient=weighing.ingredient, cup=weighing.cup)


@dataclass(frozen=True, slots=True)
class Pouring:
    """The picture of a pour, and its moments in words; each has the digit that stands in the picture."""

    picture: Drawing
    moments: tuple[str, ...]


def pouring(weighing: WeighingRecord, trace: Points, step: Mass) -> Pouring | None:
    """Grams in the cup over the seconds of the step, with the band; None for a trace too short to draw."""
    level = weighing.gross - weighing.net
    curve = [(at - trace[0][0], (mg - level.mg) / 1000) for at, mg in trace]
    if len(curve) < 2 or curve[-1][0] <= 0:
        return None
    end, low, high = curve[-1][0], weighing.low.g, weighing.high.g
    top = max(high, *(g for _, g in curve)) * 1.06
    bottom = min(0.0, *(g for _, g in curve))
    if top <= bottom:
        return None
    moments = _moments(weighing, curve, step)
    points = [Point(at, g, str(digit)) for digit, (at, g, _) in enumerate(moments, 1)]
    title = pour_title(weighing)
    spoken = t(
        "{title}: grams in the cup over {end} s. The band goes from {low} to {high}. ",
        title=title,
        end=f"{end:.0f}",
        low=mass_text(weighing.low, step),
        high=mass_text(weighing.high, step),
    ) + " ".join(f"{words}." for _, _, words in moments)
    drawn = plot(
        title,
        spoken,
        Axis(t("seconds"), 0.0, end),
        Axis(t("grams in the cup"), bottom, top),
        [Curve(tuple(curve))],
        points=points,
        band=([(0.0, low), (end, low)], [(0.0, high), (end, high)]),
    )
    return Pouring(drawn, tuple(f"{digit} {words}" for digit, (_, _, words) in enumerate(moments, 1)))


def _moments(weighing: WeighingRecord, curve: list[tuple[float, float]], step: Mass) -> list[tuple[float, float, str]]:
    """When the pour began, came near, reached its band and was accepted."""
    near = NEAR_PART * weighing.target.g
    found = [(*curve[0], t("tared, pouring may begin"))]
    slowly = next(((at, g) for at, g in curve if g >= near), None)
    if slowly is not None:
        found.append((*slowly, t("near after {slowly} s: slowly from here", slowly=f"{slowly[0]:.0f}")))
    reached = next(((at, g) for at, g in curve if g >= weighing.low.g), None)
    if reached is not None:
        found.append((*reached, t("the band is reached after {reached} s: stop", reached=f"{reached[0]:.0f}")))
    accepted = t("accepted after {curve} s: {net}", curve=f"{curve[-1][0]:.0f}", net=mass_text(weighing.net, step))
    return [*found, (curve[-1][0], weighing.net.g, accepted)]
