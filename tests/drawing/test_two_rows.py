"""Two rows of dots: each value at its place, none hidden, the cut between its neighbours."""

import pytest

from station.drawing.marks import Dot, Ink, Label, Line
from station.drawing.plot import Axis
from station.drawing.two_rows import Row, two_rows

AXIS = Axis("mix time s", 50.0, 110.0)


def drawn(*rows, cut=None):
    return two_rows("Mix time", "what it shows", AXIS, rows, cut)


def test_every_value_has_a_dot_in_its_row_in_the_order_of_the_axis():
    made = drawn(Row("bad", (60.0, 55.0)), Row("all others", (100.0, 80.0, 90.0)))
    dots = [mark for mark in made.marks if isinstance(mark, Dot)]
    assert len(dots) == 5
    upper, lower = dots[:2], dots[2:]
    assert len({dot.y for dot in upper}) == len({dot.y for dot in lower}) == 1
    assert upper[0].y < lower[0].y
    assert [dot.x for dot in lower] == sorted(dot.x for dot in lower)
    assert lower[1].x - lower[0].x == pytest.approx(lower[2].x - lower[1].x)
    assert {"bad", "all others", "mix time s"} <= {mark.text for mark in made.marks if isinstance(mark, Label)}


def test_dots_that_would_hide_each_other_stand_on_top_of_each_other():
    dots = [mark for mark in drawn(Row("bad", (60.0, 60.0, 60.1))).marks if isinstance(mark, Dot)]
    assert len({dot.y for dot in dots}) == 3


def test_the_cut_lies_between_the_values_that_it_parts():
    made = drawn(Row("bad", (60.0,)), Row("all others", (90.0,)), cut=75.0)
    low, high = sorted(mark.x for mark in made.marks if isinstance(mark, Dot))
    (cut,) = [mark for mark in made.marks if isinstance(mark, Line) and mark.ink is Ink.DASHED]
    assert low < cut.x1 == cut.x2 < high
    assert not [mark for mark in drawn(Row("bad", (60.0,))).marks if isinstance(mark, Line) and mark.ink is Ink.DASHED]
