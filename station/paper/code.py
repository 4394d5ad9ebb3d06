"""A two-dimensional code on paper, from its modules: full squares without gaps between them."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import black
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

Modules = Sequence[Sequence[bool]]
"""Rows of modules from the top, dark ones true, its light margin included."""


def draw_code(canvas: Canvas, modules: Modules, x: float, y: float, side: float) -> None:
    """Draw it with its lower left corner at a point, all in points. Runs of dark modules are one area each."""
    unit = side / len(modules)
    canvas.setFillColor(black)
    path = canvas.beginPath()
    for row, line in enumerate(modules):
        bottom = y + side - (row + 1) * unit
        start = None
        for column, dark in enumerate([*line, False]):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                path.rect(x + start * unit, bottom, (column - start) * unit, unit)
                start = None
    canvas.drawPath(path, stroke=0, fill=1)


class Code(Flowable):  # type: ignore[misc]  # the library has no types
    """The code in a text, at a side in points."""

    def __init__(self, modules: Modules, side: float) -> None:
        super().__init__()
        self._modules = modules
        self.width = self.height = side

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size in points, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        draw_code(self.canv, self._modules, 0, 0, self.width)
