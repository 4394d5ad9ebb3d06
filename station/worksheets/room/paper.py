"""Where a thing drawn to scale lies in its drawing, and the scale at which that drawing fits a sheet of A4."""

from __future__ import annotations

from dataclasses import dataclass

from station.errors import Refused
from station.texts import t

WIDTH = 420.0
TOP = 46.0
_LEFT, _RIGHT, _BELOW, _TALLEST = 24.0, 112.0, 42.0, 540.0
"""Room around the thing for dimensions and captions, and how tall it becomes at most, in units."""
PAPER_MM = (190.0, 277.0)
"""A4 with margins."""
CAPTION = 16.0
"""Height of a line of captions."""
SCALES = (1, 2, 5, 10, 20, 50, 100)


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where real millimetres come to lie: `per_mm` units each, at a scale of 1:`scale` on paper.

    The thing begins at `left` and ends at `below`; the drawing is `height` units high.
    """

    scale: int
    per_mm: float
    left: float
    below: float
    height: float

    def caption(self, number: int) -> float:
        """Base line of a caption under the thing and its lower dimension; the first is number 0."""
        return self.below + _BELOW + (number + 0.5) * CAPTION

    @property
    def mm_per_unit(self) -> float:
        """Millimetres on paper of one unit."""
        return 1 / (self.scale * self.per_mm)

    def x(self, mm: float) -> float:
        """Across, from the outer left edge."""
        return self.left + mm * self.per_mm

    def y(self, mm: float) -> float:
        """Down, from the outer upper edge."""
        return TOP + mm * self.per_mm


def sheet_for(across: float, down: float, captions: int) -> Sheet:
    """The largest usual scale for a thing of `across` × `down` mm, with `captions` lines below it.

    Raises Refused for one that no page shows.
    """
    room = WIDTH - _LEFT - _RIGHT
    per_mm = min(room / across, _TALLEST / down)
    below = TOP + down * per_mm
    height = below + _BELOW + (captions + 0.25) * CAPTION
    for scale in SCALES:
        if WIDTH / per_mm / scale <= PAPER_MM[0] and height / per_mm / scale <= PAPER_MM[1]:
            return Sheet(scale, per_mm, _LEFT + (room - across * per_mm) / 2, below, height)
    raise Refused(t("The box is too large for a drawing."), t("Check the units of its lengths."))
