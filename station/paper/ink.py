"""A drawing on paper: its marks in black, greys and broken lines, so that any printer shows what each stands for."""

from __future__ import annotations

from typing import Final

from reportlab.lib.colors import Color, black
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Mark, Path
from station.paper.fonts import fonts

_GREY: Final = {
    Ink.FILL: Color(0.35, 0.35, 0.35),
    Ink.BAND: Color(0.86, 0.86, 0.86),
    Ink.SHADE: Color(0.82, 0.82, 0.82),
    Ink.HATCH: Color(0.72, 0.72, 0.72),
    Ink.DOTS: Color(0.92, 0.92, 0.92),
}
_STROKE: Final = {Ink.FAINT: 0.6, Ink.DASHED: 1.0, Ink.FILL: 2.0, Ink.MARK: 1.6}
_FAINT: Final = Color(0.5, 0.5, 0.5)


class Drawn(Flowable):  # type: ignore[misc]  # the library has no types
    """The drawing at a width in points."""

    def __init__(self, drawing: Drawing, width: float) -> None:
        super().__init__()
        self._drawing, self._scale = drawing, width / drawing.width
        self.width, self.height = width, drawing.height * self._scale

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size in points, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it, its upper left corner first: a drawing counts downward, paper upward."""
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.translate(0, self.height)
        canvas.scale(self._scale, -self._scale)
        for mark in self._drawing.marks:
            _draw(canvas, mark)
        canvas.restoreState()


def _draw(canvas: Canvas, mark: Mark) -> None:
    match mark:
        case Line(x1, y1, x2, y2, ink):
            _pen(canvas, ink)
            canvas.line(x1, y1, x2, y2)
        case Path(points, ink, closed):
            _pen(canvas, ink)
            path = canvas.beginPath()
            path.moveTo(*points[0])
            for point in points[1:]:
                path.lineTo(*point)
            if closed:
                path.close()
            canvas.drawPath(path, stroke=int(not closed or ink not in _GREY), fill=int(closed and ink in _GREY))
        case Box(x, y, width, height, ink):
            _pen(canvas, ink)
            filled = ink in _GREY
            canvas.rect(x, y, width, height, stroke=int(not filled), fill=int(filled))
        case Dot(x, y, r, _):
            canvas.setFillColor(black)
            canvas.circle(x, y, r, stroke=0, fill=1)
        case Label():
            _write(canvas, mark)


def _pen(canvas: Canvas, ink: Ink) -> None:
    canvas.setStrokeColor(_FAINT if ink is Ink.FAINT else black)
    canvas.setLineWidth(_STROKE.get(ink, 1.4))
    canvas.setDash(*((5, 4) if ink is Ink.DASHED else ()))
    canvas.setFillColor(_GREY.get(ink, black))


def _write(canvas: Canvas, label: Label) -> None:
    known = fonts()
    text = known.legible(label.text)
    canvas.saveState()
    canvas.translate(label.x, label.y)
    if label.turned:
        canvas.rotate(-90)
    canvas.scale(1, -1)
    canvas.setFillColor(black)
    canvas.setFont(known.bold if label.bold else known.plain, label.size)
    write = {
        Anchor.START: canvas.drawString,
        Anchor.MIDDLE: canvas.drawCentredString,
        Anchor.END: canvas.drawRightString,
    }
    write[label.anchor](0, 0, text)
    canvas.restoreState()
