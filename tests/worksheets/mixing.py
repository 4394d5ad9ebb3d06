"""What the tests of mixing worksheets share: looking up a worksheet and its rows, its refusals and its drawings."""

import xml.etree.ElementTree as ET
from collections.abc import Mapping

import pytest

from station.drawing.marks import Box
from station.drawing.svg import svg
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.form import Row, Worked, Worksheet


def by_key(sheets: tuple[Worksheet, ...], key: str) -> Worksheet:
    return next(sheet for sheet in sheets if sheet.key == key)


def refusal(sheet: Worksheet, typed: Mapping[str, str]) -> str:
    """The sentences with which it is refused."""
    with pytest.raises(NotFilledIn) as refused:
        worked(sheet, typed)
    said = " ".join(slip.said for slip in refused.value.slips)
    assert said.endswith(".")
    return said


def row(answer: Worked, label: str) -> Row:
    return next(row for row in answer.rows if row.label == label)


def assert_drawn(answer: Worked) -> None:
    """Each drawing is well formed, lies inside its field and is told in words."""
    assert answer.drawings
    for drawing in answer.drawings:
        ET.fromstring(svg(drawing, standalone=True))
        assert drawing.spoken.endswith(".")
        for mark in drawing.marks:
            across = [getattr(mark, name, 0.0) for name in ("x", "x1", "x2")]
            down = [getattr(mark, name, 0.0) for name in ("y", "y1", "y2")]
            if isinstance(mark, Box):
                across.append(mark.x + mark.width)
                down.append(mark.y + mark.height)
            assert all(-1e-6 <= x <= drawing.width + 1e-6 for x in across)
            assert all(-1e-6 <= y <= drawing.height + 1e-6 for y in down)
