"""Labels by their dimensions: single ones from a roll, and sheets of A4 (ISO 216). Common practice, no source.

A sheet's grid stands in its middle, so the margins follow from the labels and the gap between columns.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

A4_WIDE_MM, A4_HIGH_MM = 210.0, 297.0
_UNPRINTED_MM: Final = 5.0
"""So much at the edge of a sheet many printers leave blank."""


@dataclass(frozen=True, slots=True)
class Size:
    """Labels of a width and height in mm; on a sheet `columns` × `rows` of them, else one a page."""

    key: str
    wide: float
    high: float
    columns: int = 1
    rows: int = 1
    gap: float = 0.0

    @property
    def on_sheet(self) -> bool:
        """Whether they come on sheets of A4."""
        return self.columns * self.rows > 1

    @property
    def places(self) -> int:
        """Labels on a page."""
        return self.columns * self.rows

    def corner(self, place: int) -> tuple[float, float]:
        """Distance of the upper left corner of label `place` (from 0, row by row) from that of its page, mm."""
        left, top = self.margins
        return left + place % self.columns * (self.wide + self.gap), top + place // self.columns % self.rows * self.high

    @property
    def margins(self) -> tuple[float, float]:
        """What is left beside and above the labels of a page, mm."""
        if not self.on_sheet:
            return 0.0, 0.0
        across = self.columns * self.wide + (self.columns - 1) * self.gap
        return (A4_WIDE_MM - across) / 2, (A4_HIGH_MM - self.rows * self.high) / 2

    @property
    def inset(self) -> tuple[float, float]:
        """What stays blank within a label beside and above, mm: 1.5, or more where it reaches the edge of a sheet."""
        if not self.on_sheet:
            return 1.5, 1.5
        left, top = self.margins
        return max(1.5, _UNPRINTED_MM - left), max(1.5, _UNPRINTED_MM - top)

    def words(self) -> str:
        """Its dimensions as a person reads them."""
        size = f"{self.wide:g} × {self.high:g} mm"
        return f"A4, {self.columns} × {self.rows}: {size}" if self.on_sheet else size


SIZES: Final = (
    Size("50x25", 50, 25),
    Size("57x32", 57, 32),
    Size("62x29", 62, 29),
    Size("89x36", 89, 36),
    Size("100x50", 100, 50),
    Size("a4-3x8", 70, 37, 3, 8),
    Size("a4-3x7", 63.5, 38.1, 3, 7, 2.5),
    Size("a4-2x7", 99.1, 38.1, 2, 7, 2.5),
    Size("a4-3x10", 70, 29.7, 3, 10),
    Size("a4-5x13", 38.1, 21.2, 5, 13, 2.5),
    Size("a4-4x16", 48.5, 16.9, 4, 16),
    Size("a4-2x4", 105, 74, 2, 4),
)
BY_KEY: Final = {size.key: size for size in SIZES}
