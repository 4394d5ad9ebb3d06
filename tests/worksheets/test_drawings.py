"""The drawings of the worksheets: they are well formed, say their numbers, keep their scale, and can be read."""

import itertools
import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.drawing.dimensions import wide
from station.drawing.marks import Anchor, Box, Ink, Label, Line, Path
from station.drawing.svg import svg
from station.worksheets.filling import worked
from station.worksheets.mixing.foam import WORKSHEETS as FOAM
from station.worksheets.mixing.ratio import WORKSHEETS as RATIO
from station.worksheets.room.shape_lines import shape_line
from station.worksheets.room.side_views import side_of
from station.worksheets.room.volume import WORKSHEETS as VOLUME
from station.worksheets.room.water import WORKSHEETS as WATER
from station.worksheets.time.moisture import WORKSHEETS as MOISTURE

FILL, IMMERSE = WATER
SHAPES, SCALE_PART, FOOTWEAR = VOLUME
HUNG, IN_CUP = "hung under the scale", "held under in a cup on the scale"

MANY = "\n".join(
    ("tapered box 100 60 80 40 50", "cone 60 90", "minus cup 20 30 25", "box 240 80 30", "minus 12 × ring 30 10")
)
CASES = {
    "mold weighed dry and full": (FILL, {"dry": "212.5 g", "full": "650.7 g", "water": "22 °C"}),
    "mold tared": (FILL, {"full": "1438.25 g", "water": "6 °C"}),
    "hot water": (FILL, {"full": "1438.25 g", "water": "40 °C"}),
    "held in a cup": (IMMERSE, {"way": IN_CUP, "in-air": "22 g", "in-water": "19.9 g"}),
    "held with a rod": (IMMERSE, {"way": IN_CUP, "in-air": "12 g", "in-water": "101.5 g", "support": "1.5 g"}),
    "hung": (IMMERSE, {"way": HUNG, "in-air": "22 g", "in-water": "2.1 g"}),
    "hung with a sinker": (
        IMMERSE,
        {"way": HUNG, "in-air": "1234.56 g", "in-water": "1200.15 g", "support": "1288.25 g"},
    ),
    "one shape": (SHAPES, {"shapes": "box 120 80 30 mm"}),
    "three shapes": (SHAPES, {"shapes": "box 120 80 30 mm\nminus 4 × cylinder 20 × 30 mm\nvolume 25 ml"}),
    "many shapes": (SHAPES, {"shapes": MANY}),
    "too many shapes": (SHAPES, {"shapes": "\n".join(f"cup {20 + n} 30 {40 + n}" for n in range(15))}),
    "pattern of a part": (SCALE_PART, {"shrinkage": "0.5 %", "length": "250", "width": "120", "height": "18"}),
    "pattern of no told size": (SCALE_PART, {"shrinkage": "0.1 %", "upward": "0.4 %"}),
    "pattern of one size": (SCALE_PART, {"shrinkage": "1 %", "length": "250", "enlarge": "1.05"}),
    "part that grows": (SCALE_PART, {"shrinkage": "-0.2 %", "length": "250", "height": "60"}),
    "part that stays": (SCALE_PART, {"shrinkage": "0 %", "width": "250"}),
    "a size": (FOOTWEAR, {"size": "42"}),
    "the next size": (FOOTWEAR, {"system": "UK adult", "size": "8", "to-size": "9"}),
    "a size far off": (FOOTWEAR, {"size": "36", "to-size": "46"}),
    "a child's size": (FOOTWEAR, {"system": "UK child", "size": "13"}),
    "the least last": (FOOTWEAR, {"size": "12"}),
    "damp air": (MOISTURE[0], {"air": "22 °C", "humidity": "60 %", "mold": "15 °C", "material": "15.5 °C"}),
}


def drawings(case):
    sheet, typed = CASES[case]
    return worked(sheet, typed).drawings


def room(label):
    """The field that a label takes: left, top, right, bottom."""
    across = wide(label.text, label.size)
    left = label.x - {Anchor.START: 0, Anchor.MIDDLE: across / 2, Anchor.END: across}[label.anchor]
    return left, label.y - 0.76 * label.size, left + across, label.y + 0.2 * label.size


def apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def labels(drawing):
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


def widths(drawing, *inks):
    return [mark.width for mark in drawing.marks if isinstance(mark, Box) and mark.ink in inks]


@pytest.mark.parametrize("case", CASES)
def test_a_drawing_is_well_formed_and_tells_in_words_what_it_shows(case):
    for drawing in drawings(case):
        root = ET.fromstring(svg(drawing, standalone=True))
        assert root.get("aria-label") == drawing.spoken
        assert drawing.spoken.endswith(".")
        assert len(root) > len(drawing.marks)


@pytest.mark.usefixtures("in_each_language")
@pytest.mark.parametrize("case", CASES)
def test_texts_can_be_read_on_a_phone_and_do_not_overlap(case):
    for drawing in drawings(case):
        assert drawing.width <= 420
        texts = labels(drawing)
        assert texts
        for label in texts:
            left, top, right, bottom = room(label)
            assert label.size >= 11
            assert left >= 0, label
            assert right <= drawing.width, label
            assert top >= 0, label
            assert bottom <= drawing.height, label
        for one, other in itertools.combinations(texts, 2):
            assert apart(room(one), room(other)), (one, other)


@pytest.mark.usefixtures("in_each_language")
@pytest.mark.parametrize("case", CASES)
def test_no_heavy_line_runs_through_a_text(case):
    for drawing in drawings(case):
        lines = [mark for mark in drawing.marks if isinstance(mark, Line) and mark.ink is not Ink.FAINT]
        for line, label in itertools.product(lines, labels(drawing)):
            where = min(line.x1, line.x2), min(line.y1, line.y2), max(line.x1, line.x2), max(line.y1, line.y2)
            assert apart(where, room(label)), (line, label)


@pytest.mark.parametrize(
    ("case", "numbers"),
    [
        ("mold weighed dry and full", ["650.7 g", "212.5 g", "438.2 g", "439.64 cm³"]),
        ("mold tared", ["1438.25 g", "0 g (tared)"]),
        ("held in a cup", ["22 g", "19.9 g", "19.957 cm³"]),
        ("held with a rod", ["101.5 g", "1.5 g", "100 g", "100.29 cm³"]),
        ("hung with a sinker", ["1234.56 g", "1288.25 g", "1200.15 g", "1322.66 g"]),
        ("three shapes", ["added: box 120 × 80 × 30 mm", "cut out: 4 × cylinder", "288 + 25 − 37.699 = 275.3 cm³"]),
        ("pattern of a part", ["250 mm on the part, 251.26 mm", "120.6 mm", "18.09 mm", "20 times"]),
        ("a size", ["280.0 mm", "42.00", "8.07", "265.00"]),
        ("the next size", ["279.4 mm", "287.9 mm", "41.91 to 43.18"]),
        ("damp air", ["60 %", "22.0 °C", "13.9 °C", "mold is at 15.0 °C", "material is at 15.5 °C"]),
    ],
)
def test_the_numbers_that_matter_are_said(case, numbers):
    spoken = drawings(case)[0].spoken
    assert [number for number in numbers if number not in spoken] == []


def test_the_masses_stand_on_the_scale_that_reads_them():
    texts = {label.text: label for label in labels(drawings("hung with a sinker")[0])}
    places = [texts[f"{grams} g"] for grams in ("1234.56", "1288.25", "1200.15")]
    assert [label.x for label in places] == sorted(label.x for label in places)
    assert texts["wire and sinker"].x == places[1].x
    assert texts["with the sinker"].x == places[2].x


def test_the_plot_of_water_says_how_far_one_gram_a_millilitre_is_off():
    # Metrologia 38 (2001): 0.99777 g/cm³ at 22 °C; OIML D 28: read in air of 0.0012 g/cm³ with weights of 8 g/cm³.
    plotted = drawings("mold weighed dry and full")[1]
    assert "0.99777 g/cm³" in plotted.spoken
    told = float(re.search(r"([\d.]+) % too little", plotted.spoken)[1])
    assert told == pytest.approx(100 * (1 - (0.99777 - 0.0012) / (1 - 0.0012 / 8)), abs=0.006)


def outlines(drawing):
    return [mark for mark in drawing.marks if isinstance(mark, Path) and mark.closed]


def span(path, axis):
    along = [point[axis] for point in path.points]
    return max(along) - min(along)


def test_what_is_added_is_drawn_full_and_what_is_cut_out_dashed():
    assert [path.ink for path in outlines(drawings("three shapes")[0])] == [Ink.OUTLINE, Ink.DASHED, Ink.OUTLINE]


def test_what_is_too_much_to_draw_is_counted():
    drawing = drawings("too many shapes")[0]
    assert len(outlines(drawing)) == 12
    assert "and 3 more, not drawn" in [label.text for label in labels(drawing)]
    assert drawing.spoken.count("added") >= 15


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["box {0} 50 {1}", "cylinder {0} {1}", "cone {0} {1}"]),
            st.integers(5, 300),
            st.integers(5, 300),
        ),
        min_size=1,
        max_size=12,
    )
)
def test_shapes_are_drawn_to_one_scale(written):
    drawing = worked(SHAPES, {"shapes": "\n".join(line.format(*sizes) for line, *sizes in written)}).drawings[0]
    paths = outlines(drawing)
    per_mm = span(paths[0], 0) / written[0][1]
    for path, (_, across, upward) in zip(paths, written, strict=True):
        assert span(path, 0) == pytest.approx(per_mm * across)
        assert span(path, 1) == pytest.approx(per_mm * upward)
        assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in path.points)


def test_a_ring_lies_and_a_volume_without_shape_is_a_cube():
    ring, cube = side_of(shape_line("ring 60 20")), side_of(shape_line("volume 27 ml"))
    assert (ring.width_mm, ring.height_mm) == pytest.approx((80, 20))
    assert (cube.width_mm, cube.height_mm) == pytest.approx((30, 30))


def test_part_and_pattern_keep_one_scale_and_their_difference_the_one_that_is_told():
    drawing = drawings("pattern of a part")[0]
    (part, flat, _), (pattern, _, _) = widths(drawing, Ink.BAND), widths(drawing, Ink.DASHED)
    per_mm = part / 250
    assert flat == pytest.approx(part)
    assert pattern - part == pytest.approx(20 * per_mm * (250 / 0.995 - 250))
    talls = [mark.height for mark in drawing.marks if isinstance(mark, Box) and mark.ink is Ink.BAND]
    assert talls[:2] == pytest.approx([per_mm * 120, per_mm * 18])


def test_a_difference_that_can_be_seen_is_drawn_as_it_is():
    sheet, typed = SCALE_PART, {"shrinkage": "0.5 %", "enlarge": "1.2", "length": "250", "height": "60"}
    drawing = worked(sheet, typed).drawings[0]
    part, pattern = widths(drawing, Ink.BAND)[0], widths(drawing, Ink.DASHED)[0]
    assert pattern / part == pytest.approx(1.2 / 0.995)
    assert "times as large" not in drawing.spoken


def test_a_part_that_grows_has_a_smaller_pattern():
    drawing = drawings("part that grows")[0]
    assert widths(drawing, Ink.DASHED)[0] < widths(drawing, Ink.BAND)[0]


def test_sizes_lie_on_the_ruler_where_their_lasts_are():
    # EU: 20/3 mm of last a size; UK: 25.4/3 mm; Mondopoint: millimetres of foot. One ruler for all.
    drawing = drawings("a size")[0]
    numbers = [label for label in labels(drawing) if re.fullmatch(r"\d+", label.text)]
    rows = [list(row) for _, row in itertools.groupby(numbers, key=lambda label: label.y)]
    steps = [(row[-2].x - row[1].x) / (int(row[-2].text) - int(row[1].text)) for row in rows if len(row) > 3]
    ruler, paris, *_, foot = steps
    assert paris == pytest.approx(ruler * 20 / 3)
    assert foot == pytest.approx(ruler)
    british = next(row for row in rows if row[0].text == "7")
    assert british[1].x - british[0].x == pytest.approx(ruler * 25.4 / 3)
    own = {mark.x1 for mark in drawing.marks if isinstance(mark, Line) and mark.ink is Ink.MARK}
    assert own == {next(label.x for label in numbers if label.text == "280")}


@pytest.mark.parametrize("case", ["mold tared", "three shapes"])
def test_a_known_volume_goes_on_to_the_batch_and_the_shot_that_fill_it(case):
    sheet, typed = CASES[case]
    answer = worked(sheet, typed)
    known = {(sheet.key, field.key) for sheet in (*RATIO, *FOAM) for field in sheet.fields}
    for path in answer.onward:
        key, field, cm3 = re.fullmatch(r"/work/([\w-]+)\?([\w-]+)=([\d.]+)", path).groups()
        assert (key, field) in known
        assert float(cm3) == pytest.approx(answer.figures["volume_cm3"], rel=1e-5)
    assert len(answer.onward) == 2
