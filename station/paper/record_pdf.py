"""Batch records as PDF on A4 (ISO 216): what counts on the first page, then how it was poured, photos, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import IO, Any, Final
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color, black
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    Image,
    KeepTogether,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from station.paper.code import Code
from station.paper.fonts import fonts
from station.paper.ink import Drawn
from station.paper.sheet import Amount, Course, Section, Sheet, Shown

_EDGE: Final = 14 * mm
_WIDE: Final = A4[0] - 2 * _EDGE
_CODE: Final = 26 * mm
_RULE: Final = Color(0.6, 0.6, 0.6)
_PER_ROW, _PHOTOS_PER_ROW, _PHOTO_HIGH = 2, 3, 44 * mm
_GAP: Final = 4 * mm
_PARTS: Final = {1: (1.0,), 2: (0.2, 0.8), 3: (0.15, 0.53, 0.32)}
_NARROW: Final = {1: (1.0,), 2: (0.36, 0.64), 3: (0.22, 0.33, 0.45)}
"""Widths of the columns of a section over the whole page, and over half of it, as parts of it."""
_PADDING: Final = 6
"""Points that the library leaves free at the edges of a page's text."""


def write_records(sheets: Iterable[Sheet], out: IO[bytes]) -> None:
    """Write the records of some casts to an open file, each from a new page on. All of them are in memory meanwhile."""
    story: list[Flowable] = []
    for sheet in sheets:
        story += [*([PageBreak()] if story else []), _Begin(sheet), *_story(sheet)]
    document = BaseDocTemplate(out, pagesize=A4, invariant=1)  # the same records give the same bytes
    frame = Frame(_EDGE - _PADDING, _EDGE, _WIDE + 2 * _PADDING, A4[1] - 2 * _EDGE)
    document.addPageTemplates(PageTemplate(frames=[frame], onPageEnd=_foot))
    document.build(story)


class _Begin(Flowable):  # type: ignore[misc]  # the library has no types
    """Where the record of a cast begins: from here on the pages say so at their foot."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__()
        self._sheet = sheet
        self.width = self.height = 0

    def draw(self) -> None:
        """Nothing is seen here; the viewer's list of contents gets an entry."""
        title = fonts().legible(self._sheet.title)
        self.canv.foot = self._sheet.foot
        self.canv.setTitle(title)
        self.canv.bookmarkPage(str(self._sheet.number))
        self.canv.addOutlineEntry(title, str(self._sheet.number))


def _foot(canvas: Canvas, _document: Any) -> None:
    canvas.setFont(fonts().plain, 7.5)
    canvas.setFillColor(black)
    canvas.drawString(_EDGE, 8 * mm, fonts().cut(canvas.foot, 7.5, _WIDE - 20 * mm))
    canvas.drawRightString(A4[0] - _EDGE, 8 * mm, str(canvas.getPageNumber()))


def _story(sheet: Sheet) -> list[Flowable]:
    story: list[Flowable] = [_head(sheet), Spacer(0, 2 * mm)]
    if sheet.warnings:
        boxed = Table([[[_words(one, bold=True) for one in sheet.warnings]]], colWidths=[_WIDE])
        boxed.setStyle(TableStyle([("BOX", (0, 0), (-1, -1), 1.2, black)]))
        story += [boxed, Spacer(0, 2 * mm)]
    story.append(_amounts(sheet.headings, sheet.amounts))
    story.append(_side_by_side(sheet.beside))
    for section in sheet.below:
        story += _section(section, _WIDE)
    if sheet.courses is not None:
        story += _pictures(sheet.courses.title, [_course(one) for one in sheet.traces], _PER_ROW)
    if sheet.photos:
        story += _pictures(sheet.photos_title, [_photo(one) for one in sheet.photos], _PHOTOS_PER_ROW)
    if sheet.cautions is not None:
        story.append(KeepTogether(_section(sheet.cautions, _WIDE)))
    return story


def _head(sheet: Sheet) -> Flowable:
    words = [
        _words(sheet.title, 17, bold=True),
        Spacer(0, 1.5 * mm),
        _words(sheet.subtitle, 10),
        Spacer(0, 1.5 * mm),
        _words(sheet.state, 11, bold=True),
    ]
    if not sheet.code:
        return Table([[words]], colWidths=[_WIDE], style=_PLAIN)
    code = [Code(sheet.code, _CODE), _words(sheet.url, 6)]
    return Table([[words, code]], colWidths=[_WIDE - 46 * mm, 46 * mm], style=_PLAIN)


def _amounts(headings: Sequence[str], amounts: Sequence[Amount]) -> Flowable:
    rows: list[list[Any]] = [[_words(one, 8) for one in headings]]
    for one in amounts:
        told: list[Flowable] = [_words(said, 7.5) for said in one.told]
        if one.where is not None:
            told.insert(0, Drawn(one.where, 40 * mm))
        rows.append(
            [_words(one.name, bold=True), _words(one.planned), _words(one.actual, bold=True), told, _words(one.lot)]
        )
    widths = [30 * mm, 26 * mm, 26 * mm, 66 * mm, _WIDE - 148 * mm]
    return Table(rows, colWidths=widths, style=_RULED, repeatRows=1)


def _side_by_side(sections: Sequence[Section]) -> Flowable:
    width = (_WIDE - _GAP) / 2
    cells = [_section(section, width) for section in sections]
    return Table([cells], colWidths=[width + _GAP, width][: len(cells)], style=_PLAIN)


def _section(section: Section, width: float) -> list[Flowable]:
    rows = [[_words(cell, 8.5) for cell in line] for line in section.lines]
    cells = max(len(line) for line in section.lines)
    table = Table(
        rows, colWidths=[part * width for part in (_PARTS if width == _WIDE else _NARROW)[cells]], style=_RULED
    )
    return [Spacer(0, 2 * mm), _words(section.title, 10, bold=True), Spacer(0, 0.8 * mm), table]


def _pictures(title: str, cells: Sequence[list[Flowable]], per_row: int) -> list[Flowable]:
    width = _WIDE / per_row
    rows = [list(cells[at : at + per_row]) for at in range(0, len(cells), per_row)]
    rows[-1] += [[] for _ in range(per_row - len(rows[-1]))]
    tables: list[Flowable] = [Table([row], colWidths=[width] * per_row, style=_PLAIN) for row in rows]
    first: list[Flowable] = [Spacer(0, 2 * mm), *([_words(title, 10, bold=True)] if title else []), tables[0]]
    return [KeepTogether(first), *tables[1:]]


def _course(one: Course) -> list[Flowable]:
    drawn = [] if one.drawing is None else [Drawn(one.drawing, _WIDE / _PER_ROW - _GAP)]
    return [_words(one.title, 9, bold=True), *drawn, *(_words(said, 7.5) for said in one.moments)]


def _photo(one: Shown) -> list[Flowable]:
    most = _WIDE / _PHOTOS_PER_ROW - _GAP
    try:
        wide, high = ImageReader(str(one.file)).getSize()
    except OSError:  # whatever is wrong with a picture, the record is printed
        return [_words(one.words, 7.5)]
    scale = min(most / wide, _PHOTO_HIGH / high)
    return [Image(str(one.file), wide * scale, high * scale, hAlign="LEFT"), _words(one.words, 7.5)]


def _words(text: str, size: float = 9, *, bold: bool = False) -> Paragraph:
    known = fonts()
    style = ParagraphStyle(
        "words", fontName=known.bold if bold else known.plain, fontSize=size, leading=size * 1.3, splitLongWords=True
    )
    return Paragraph(escape(known.legible(text)).replace("\n", "<br/>"), style)


_PLAIN: Final = TableStyle(
    [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
    ]
)
_RULED: Final = TableStyle(
    [*_PLAIN.getCommands(), ("RIGHTPADDING", (0, 0), (-2, -1), 4), ("LINEBELOW", (0, 0), (-1, -1), 0.4, _RULE)]
)
