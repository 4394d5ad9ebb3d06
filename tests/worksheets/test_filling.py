"""A worksheet is filled in by typed texts: every slip is told at once, under its field, and nothing raises."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import Refused
from station.quantities import NotAQuantity
from station.worksheets.filling import NotFilledIn, value_of, worked
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind, read


def _work(values: Values) -> Worked:
    if values["wall"] > 500:
        raise Refused("A wall of half a metre is no wall.", "Type it in mm.")
    if values["count"] == 13:
        raise ValueError("thirteen is not wanted")
    return Worked((Row("Wall", f"{values['wall']:g} mm"),), {"wall_mm": values["wall"], "of": values["of"]})


SHEET = Worksheet(
    "small",
    "Small",
    "What is it?",
    (
        Field("wall", "Wall", Kind.LENGTH, "12.7 mm", hint="Of the box."),
        Field("count", "How many", Kind.COUNT),
        Field("of", "Of", Kind.CHOICE, choices=("A", "B")),
        Field("left", "Left", Kind.MASS, optional=True),
        Field("lines", "Lines", Kind.LINES, optional=True),
    ),
    _work,
)


def slips(typed: dict[str, str]) -> dict[str, str]:
    with pytest.raises(NotFilledIn) as refused:
        worked(SHEET, typed)
    return {slip.key: slip.said for slip in refused.value.slips}


def test_defaults_are_filled_in_and_the_first_choice_is_taken():
    assert worked(SHEET, {"count": "2"}).figures == {"wall_mm": 12.7, "of": "A"}


def test_every_slip_is_told_at_once_under_the_label_of_its_field():
    told = slips({"wall": "thick", "of": "C"})
    assert set(told) == {"wall", "count", "of"}
    assert told["wall"].startswith("Wall: 'thick' is not")
    assert told["count"].startswith("How many: is empty")
    assert "A, B" in told["of"]


def test_an_unknown_field_is_named_with_the_known_ones():
    assert "colour" in slips({"colour": "red", "count": "1"})[""]


def test_values_that_do_not_go_together_are_a_sentence_for_the_whole_form():
    assert slips({"wall": "0.6 m", "count": "1"}) == {"": "A wall of half a metre is no wall. Type it in mm."}
    assert slips({"count": "13"}) == {"": "Thirteen is not wanted."}


@pytest.mark.parametrize(
    ("kind", "typed", "value"),
    [
        (Kind.MASS, "1,5 kg", 1500.0),
        (Kind.MASS, "62.4", 62.4),
        (Kind.LENGTH, "1/2 in", 12.7),
        (Kind.VOLUME, "0.5 l", 500.0),
        (Kind.DENSITY, "96 kg/m3", 0.096),
        (Kind.TEMPERATURE, "73.4 °F", pytest.approx(23.0)),
        (Kind.TIME, "20", 1200.0),
        (Kind.PERCENT, "3", 3.0),
        (Kind.NUMBER, "1,25", 1.25),
        (Kind.MONEY, "32.50", 3250),
        (Kind.MONEY, "€ 32,5", 3250),
        (Kind.DATE, "2026-03-14", date(2026, 3, 14)),
        (Kind.LINES, "a\n\n b ;c", ("a", "b", "c")),
        (Kind.YES, "yes", True),
    ],
)
def test_each_kind_is_read_into_the_stations_own_units(kind: Kind, typed: str, value: Any):
    assert read(kind, typed) == value


@given(kind=st.sampled_from(list(Kind)), typed=st.text(max_size=30))
def test_nonsense_gives_a_sentence_or_a_value_and_never_another_error(kind: Kind, typed: str):
    field = Field("x", "X", kind, choices=("A", "B"))
    try:
        value = value_of(field, typed)
    except ValueError as wrong:
        assert str(wrong).strip()  # noqa: PT017
    else:
        assert value is not None


def test_a_line_longer_than_anybody_writes_is_refused_before_it_is_taken_apart():
    assert read(Kind.LINES, "x" * 200) == ("x" * 200,)
    with pytest.raises(NotAQuantity, match="200 characters"):
        read(Kind.LINES, "x" * 201)
