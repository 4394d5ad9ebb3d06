"""The drawings of the mold box: to scale on paper, with the dimensions that were worked out, legible."""

import itertools
import re
from xml.etree import ElementTree as ET

import pytest

from station.casting.boards import inches
from station.drawing.dimensions import wide
from station.drawing.marks import Anchor, Box, Ink, Label
from station.drawing.svg import svg
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.plain import plain
from station.worksheets.room.box import WORKSHEETS

TYPED = {"length": "120", "width": "80", "height": "30", "volume": "150 ml"}


def answer(**typed):
    return worked(WORKSHEETS[0], TYPED | typed)


def texts(drawing):
    return {mark.text for mark in drawing.marks if isinstance(mark, Label)}


@pytest.mark.parametrize("size", ["40 mm", "120 mm", "600 mm", "1.5 m"])
def test_a_print_is_to_scale_and_fits_the_paper(size):
    found = answer(length=size, volume="")
    for drawing in found.drawings:
        file = ET.fromstring(svg(drawing, standalone=True))
        wide, high = (float(file.get(side).removesuffix("mm")) for side in ("width", "height"))
        assert wide <= 190.1
        assert high <= 277.1
        hatched = next(box for box in file if box.tag.endswith("rect") and "hatch" in box.get("class"))
        scale = int(
            next(t.text for t in file if t.tag.endswith("text") and "1:" in (t.text or "")).split("1:")[1].split()[0]
        )
        on_paper = float(hatched.get("width")) * drawing.mm_per_unit
        real = found.figures["box_mm"][0] - 2 * 12.7
        assert on_paper * scale == pytest.approx(real, rel=2e-3)


BOXES = {
    "plain": {},
    "parted, with spouts": {"parting": "12 mm", "spouts": "3"},
    "more spouts than in a row": {"spouts": "20", "spout": "15 mm"},
    "tall": {"length": "30", "width": "30", "height": "900", "volume": ""},
    "long": {"length": "1.9 m", "width": "40", "height": "20", "volume": "", "parting": "10 mm", "spouts": "2"},
    "deep": {"length": "40", "width": "850", "height": "20", "volume": ""},
    "small": {"length": "8", "width": "6", "height": "4", "volume": ""},
}


@pytest.mark.parametrize("case", BOXES)
def test_dimensions_in_the_drawings_are_the_figures(case):
    found = answer(**BOXES[case])
    plan, section = found.drawings
    length, width, level = (f"{plain(size, 4)} mm" for size in found.figures["box_mm"])
    inside = f"inside {length} ≈ {inches(found.figures['box_mm'][0])}"
    assert {inside, width} <= texts(plan)
    assert {inside, level} <= texts(section)
    for said in (length, width):
        assert said in plan.spoken
    assert level in section.spoken
    assert ("parting line" in section.spoken) == ("parting" in BOXES[case])
    assert ("spout" in section.spoken) == ("spout" in plan.spoken) == ("spouts" in BOXES[case])


@pytest.mark.parametrize("case", BOXES)
def test_the_box_is_drawn_to_one_scale_in_both_views(case):
    found = answer(**BOXES[case])
    length, width, level = found.figures["box_mm"]
    for drawing, (across, down), ink in zip(
        found.drawings, ((length, width), (length, level)), (Ink.OUTLINE, Ink.BAND), strict=True
    ):
        (box,) = (mark for mark in drawing.marks if isinstance(mark, Box) and mark.ink is ink)
        scale = int(re.search(r"1:(\d+)", " ".join(texts(drawing)))[1])
        assert box.width * drawing.mm_per_unit * scale == pytest.approx(across)
        assert box.height * drawing.mm_per_unit * scale == pytest.approx(down)
        for mark in drawing.marks:
            if isinstance(mark, Box):
                assert 0 <= mark.x <= mark.x + mark.width <= drawing.width
                assert 0 <= mark.y <= mark.y + mark.height <= drawing.height


@pytest.mark.usefixtures("in_each_language")
@pytest.mark.parametrize("case", BOXES)
def test_captions_are_legible_inside_and_apart(case):
    for drawing in answer(**BOXES[case]).drawings:
        found = [mark for mark in drawing.marks if isinstance(mark, Label)]
        rooms = []
        for label in found:
            across = wide(label.text, label.size)
            left = label.x - {Anchor.START: 0, Anchor.MIDDLE: across / 2, Anchor.END: across}[label.anchor]
            rooms.append((left, label.y - 0.76 * label.size, left + across, label.y + 0.2 * label.size))
            assert 0 <= left <= left + across <= drawing.width, label
            assert 0 <= rooms[-1][1] <= rooms[-1][3] <= drawing.height, label
        for a, b in itertools.combinations(rooms, 2):
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_box_no_page_shows_is_refused():
    with pytest.raises(NotFilledIn, match="too large for a drawing"):
        answer(length="90 m", volume="")
