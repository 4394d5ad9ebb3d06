"""Boards for a mold box: what to cut from which thickness, and the round box that does without."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from station.errors import Refused
from station.texts import t

INCH_MM = 25.4


@dataclass(frozen=True, slots=True)
class Board:
    """`count` boards of `long` × `wide` mm, and in words what they are."""

    name: str
    count: int
    long: float
    wide: float


def cutting_list(inner: tuple[float, float, float], thickness: float, *, rim: float = 0.0) -> tuple[Board, ...]:
    """Boards that enclose `inner` (length, width, fill height in mm): the long sides overlap the short ones.

    The walls stand on the floor and are `rim` mm higher than the silicone. Raises Refused for sizes
    that are none.
    """
    if not (math.isfinite(thickness) and thickness > 0):
        raise Refused(t("A board has a thickness above zero."), t("Type it, such as 18 mm or 3/4 in."))
    if not (math.isfinite(rim) and rim >= 0):
        raise Refused(t("The boards end below the silicone."), t("Let them stand above it, by 10 mm or so."))
    if not all(math.isfinite(size) and size > 0 for size in inner):
        raise Refused(t("The box has no room inside."), t("Check the positive and the walls."))
    length, width, high = inner
    return (
        Board(t("long side"), 2, length + 2 * thickness, high + rim),
        Board(t("short side"), 2, width, high + rim),
        Board(t("floor"), 1, length + 2 * thickness, width + 2 * thickness),
    )


def area_cm2(boards: tuple[Board, ...]) -> float:
    """Area of all boards, without the width of the cuts."""
    return sum(board.count * board.long * board.wide for board in boards) / 100


def inches(mm: float) -> str:
    """Inches to the nearest sixteenth: 5 3/4 in."""
    whole, rest = divmod(Fraction(round(mm / INCH_MM * 16), 16), 1)
    parts = [str(part) for part in (whole, rest) if part] or ["0"]
    return t("{inches} in", inches=" ".join(parts))


@dataclass(frozen=True, slots=True)
class RoundBox:
    """A round box: inner diameter and fill height in mm, volume in cm³."""

    diameter: float
    high: float

    @property
    def volume(self) -> float:
        """π/4 × diameter² × height."""
        return math.pi / 4 * self.diameter**2 * self.high / 1000


def round_box(extents: tuple[float, float, float], side: float, below: float, above: float) -> RoundBox:
    """The round box about a positive: the diagonal of its plan, with the wall on both ends."""
    return RoundBox(math.hypot(*extents[:2]) + 2 * side, extents[2] + below + above)
