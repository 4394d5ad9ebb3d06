"""Drawings as SVG: well-formed whatever is in them, to scale where they say so, and never by colour alone."""

from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Path
from station.drawing.plot import Axis, Curve, Point, plot
from station.drawing.svg import svg

NUMBER = st.floats(-1e4, 1e4)
TEXT = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=20)
POINTS = st.lists(st.tuples(NUMBER, NUMBER), max_size=5).map(tuple)
MARKS = st.one_of(
    st.builds(Line, NUMBER, NUMBER, NUMBER, NUMBER, st.sampled_from(Ink)),
    st.builds(Path, POINTS, st.sampled_from(Ink), st.booleans()),
    st.builds(Box, NUMBER, NUMBER, NUMBER, NUMBER, st.sampled_from(Ink)),
    st.builds(Dot, NUMBER, NUMBER, st.floats(0, 50), st.sampled_from(Ink)),
    st.builds(Label, NUMBER, NUMBER, TEXT, st.sampled_from(Anchor), st.floats(5, 40), st.booleans(), st.booleans()),
)
DRAWINGS = st.builds(
    Drawing,
    TEXT,
    TEXT,
    st.floats(1, 1e3),
    st.floats(1, 1e3),
    st.lists(MARKS, max_size=6).map(tuple),
    st.none() | st.floats(0.1, 10),
)


@given(DRAWINGS, st.booleans())
def test_any_drawing_is_well_formed_and_says_what_it_shows(drawing, standalone):
    root = ET.fromstring(svg(drawing, standalone=standalone))
    assert root.get("aria-label") == drawing.spoken
    drawn = [e for e in root if not e.tag.endswith(("defs", "title", "style"))]
    assert len(drawn) == len(drawing.marks)


def test_texts_cannot_become_marks():
    text = svg(Drawing("t", 'a "quoted" <b>', 10, 10, (Label(1, 1, "<script>x</script>&"),)))
    assert "<script>" not in text
    assert ET.fromstring(text)[0].text == "<script>x</script>&"


def test_a_file_is_as_large_on_paper_as_it_says():
    root = ET.fromstring(svg(Drawing("t", "s", 400, 200, (), mm_per_unit=0.5), standalone=True))
    assert (root.get("width"), root.get("height")) == ("200mm", "100mm")
    assert root.get("viewBox") == "0 0 400 200"


def test_every_ink_looks_different_and_areas_of_a_pattern_have_one():
    looks = {ink: svg(Drawing("t", "s", 9, 9, (Box(0, 0, 5, 5, ink),))) for ink in Ink}
    assert len(set(looks.values())) == len(Ink)
    for ink in (Ink.HATCH, Ink.DOTS):
        assert "<pattern" in looks[ink]
        assert 'fill="url(#' in looks[ink]


@given(st.floats(-1e3, 1e3), st.floats(0.01, 1e4))
def test_ticks_are_round_and_between_the_ends(low, length):
    axis = Axis("x", low, low + length)
    ticks = axis.ticks()
    assert 2 <= len(ticks) <= 12
    assert all(low - 1e-6 * length <= tick <= low + length * (1 + 1e-6) for tick in ticks)


@given(st.floats(0.01, 100), st.floats(1.5, 1e4))
def test_a_logarithmic_axis_halves_at_the_geometric_mean(low, times):
    axis = Axis("x", low, low * times, log=True)
    assert axis.part(low * times**0.5) == pytest.approx(0.5)
    assert all(low * 0.99 <= tick <= low * times * 1.01 for tick in axis.ticks())


@pytest.mark.parametrize(("low", "high", "log"), [(1, 1, False), (2, 1, False), (0, 10, True), (-1, 10, True)])
def test_an_axis_without_room_is_refused(low, high, log):
    with pytest.raises(ValueError, match="two ends"):
        Axis("x", low, high, log)


def test_a_plot_holds_its_points_inside_the_frame():
    drawn = plot(
        "t", "s", Axis("x", 0, 10), Axis("y", 0, 5), (Curve(((0, 0), (20, 9))),), points=(Point(5, 2.5, "here"),)
    )
    for mark in drawn.marks:
        if isinstance(mark, Path):
            assert all(0 <= x <= drawn.width and 0 <= y <= drawn.height for x, y in mark.points)
    (dot,) = [mark for mark in drawn.marks if isinstance(mark, Dot)]
    left, right = (
        mark.x
        for mark in drawn.marks
        if isinstance(mark, Label) and mark.text in ("0", "10") and mark.anchor is Anchor.MIDDLE
    )
    assert dot.x == pytest.approx((left + right) / 2)
