"""Charts of casts: everything lies inside the drawing, order is kept, and marks differ by shape."""

from hypothesis import given
from hypothesis import strategies as st

from station.drawing.marks import Box, Dot, Ink, Label, Line, Path
from station.drawing.series import Series, Shape, series_chart
from station.drawing.shares import CountRow, ShareRow, count_chart, share_chart

FIGURES = st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=120)


def points(drawing):
    for mark in drawing.marks:
        match mark:
            case Path(given_points, _, _):
                yield from given_points
            case Dot(x, y):
                yield x, y
            case Line(x1, y1, x2, y2):
                yield from ((x1, y1), (x2, y2))
            case Box(x, y, width, height):
                yield from ((x, y), (x + width, y + height))
            case Label(x, y):
                yield x, y


def chart(values, **more):
    return series_chart(Series("figure", "said", "g", "cast", range(1, len(values) + 1), values, **more))


@given(FIGURES, st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_whatever_is_charted_lies_inside(values, low, wide):
    drawing = chart(
        values, middle=low, low=[low - wide] * len(values), high=[low + wide] * len(values), allowed=(None, low + wide)
    )
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in points(drawing))
    assert all(mark.width >= 0 and mark.height >= -1e-9 for mark in drawing.marks if isinstance(mark, Box))


@given(st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=60))
def test_more_is_higher_and_later_is_further_right(values):
    dots = [mark for mark in chart(values).marks if isinstance(mark, Dot)]
    assert len(dots) == len(values)
    assert [dot.x for dot in dots] == sorted(dot.x for dot in dots)
    for one, other in zip(range(len(values)), range(1, len(values)), strict=False):
        if values[one] < values[other]:
            assert dots[one].y >= dots[other].y


def test_marks_differ_by_shape_and_the_large_one_has_its_number():
    values = [1.0, 2.0, 1.5, 9.0, 1.2]
    plain = chart(values)
    shown = chart(values, marked={3: Shape.LARGE, 1: Shape.SQUARE})
    assert (
        len([mark for mark in shown.marks if isinstance(mark, Box)])
        == len([mark for mark in plain.marks if isinstance(mark, Box)]) + 1
    )
    assert [mark.r for mark in shown.marks if isinstance(mark, Dot)] == [3, 2, 3, 6, 3]
    assert any(isinstance(mark, Label) and mark.text == "4" and mark.bold for mark in shown.marks)


def test_what_is_allowed_is_shaded_up_to_the_edge_where_one_end_is_open():
    (band,) = [mark for mark in chart([1.0, 2.0], allowed=(1.5, None)).marks if getattr(mark, "ink", None) is Ink.BAND]
    (frame,) = [mark for mark in chart([1.0, 2.0]).marks if isinstance(mark, Box) and mark.ink is Ink.FAINT]
    assert band.y == frame.y
    assert band.height < frame.height


def test_changes_are_drawn_from_zero():
    ys = [mark.y for mark in chart([0.0, 5.0], from_zero=True).marks if isinstance(mark, Dot)]
    (frame,) = [mark for mark in chart([1.0, 2.0]).marks if isinstance(mark, Box) and mark.ink is Ink.FAINT]
    assert ys[0] == frame.y + frame.height


@given(st.lists(st.tuples(st.text(max_size=60), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1)), max_size=9))
def test_shares_lie_in_their_intervals_on_one_axis(rows):
    told = [ShareRow(name, "5 of 6", *sorted(ends)[1:2], min(ends), max(ends)) for name, *ends in rows]
    drawing = share_chart("shares", "said", told)
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in points(drawing))
    bars = [mark for mark in drawing.marks if isinstance(mark, Box)]
    dots = [mark for mark in drawing.marks if isinstance(mark, Dot)]
    assert all(bar.x - 1e-9 <= dot.x <= bar.x + bar.width + 1e-9 for bar, dot in zip(bars, dots, strict=True))


def test_counts_are_as_long_as_they_are_and_a_long_name_leaves_room():
    drawing = count_chart("defects", "said", [CountRow("a " * 60, "8 of 40", 8), CountRow("void", "2 of 40", 2)])
    bars = [mark.width for mark in drawing.marks if isinstance(mark, Box)]
    assert bars[0] == 4 * bars[1]
    (name,) = [mark for mark in drawing.marks if isinstance(mark, Label) and mark.text.startswith("a a")]
    assert name.text.endswith("…")
