"""The worksheets of shapes, scale and footwear as a person fills them in."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import StationError
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.room.shape_lines import SORTS, shape_line
from station.worksheets.room.volume import WORKSHEETS

SHAPES, SCALE_PART, FOOTWEAR = WORKSHEETS


@pytest.mark.parametrize(
    ("line", "cm3"),
    [
        ("box 120 80 30 mm", 288.0),
        ("box 120 × 80 × 30 mm", 288.0),
        ("Box 120x80x30mm", 288.0),
        ("box 120 by 80 by 30", 288.0),
        ("box 12 8 3 cm", 288.0),
        ("box 12 cm × 80 mm × 30 mm", 288.0),
        ("box 12 cm 80 mm 30 mm", 288.0),
        ("box 12,5 × 8 × 3 cm", 300.0),
        # NIST Handbook 44, appendix C: 1 in³ = 16.387064 cm³.
        ("box 1 1/2 × 3/4 × 2 in", 2.25 * 16.387064),
        ("box 1-1/2 3/4 2 in", 2.25 * 16.387064),
        ('box 1½" x ¾" x 2"', 2.25 * 16.387064),
        ("cylinder 20 × 30 mm", math.pi * 3),
        ("cup 60 80 90 mm", math.pi * 90 * (60 * 60 + 60 * 80 + 80 * 80) / 12000),
        ("cone 60 90", math.pi * 90 * 3600 / 12000),
        ("tapered box 100 60 80 40 50", 50 * (100 * 60 + 80 * 40 + 180 * 100) / 6000),
        ("ring 60 20", 59.217626407),
        ("volume 25 ml", 25.0),
        ("volume 2 in3", 2 * 16.387064),
        ("4 × cylinder 20 × 30 mm", 4 * math.pi * 3),
    ],
)
def test_a_shape_is_read_however_it_is_written_down(line, cm3):
    found = shape_line(line)
    assert found.volume_cm3 == pytest.approx(cm3, rel=1e-9)
    assert not found.minus


@pytest.mark.parametrize("sign", ["minus ", "less ", "- ", "−"])
def test_a_shape_is_cut_out_by_a_word_or_a_sign(sign):
    found = shape_line(f"{sign}2 × box 10 10 10")
    assert found.minus
    assert found.volume_cm3 == pytest.approx(2.0)
    assert found.said == "minus 2 × box 10 × 10 × 10 mm"


@given(st.sampled_from(sorted(SORTS)), st.lists(st.integers(1, 300), min_size=5, max_size=5))
def test_a_line_as_it_was_understood_is_understood_the_same_again(sort, sizes):
    sizes = sorted(sizes, reverse=True)[: len(SORTS[sort].sizes)]
    first = shape_line(f"{sort} {' '.join(map(str, sizes))}")
    again = shape_line(first.said)
    assert again == first


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("blob 1 2 3", "not a shape"),
        ("", "not a shape"),
        ("box 10 10", "has 2 sizes; a box has 3: length, width, height"),
        ("box", "has 0 sizes"),
        ("cylinder 1 2 3", "has 3 sizes; a cylinder has 2"),
        ("box 10 10 1,500", "may mean 1500 or 1.500"),
        ("box 10 10 0", "height is 0 mm"),
        ("box 10 10 10 g", "not a length"),
        ("box a b c", "not a length"),
        ("volume 25 g", "unit of mass"),
        ("volume 0 ml", "above zero"),
        ("0 × box 1 1 1", "has 0 of them"),
        ("ring 10 20", "cannot be 20 mm thick"),
        ("box 10 10 20000", "Look at its unit"),
    ],
)
def test_a_line_that_is_no_shape_is_told_with_what_is_wrong(line, told):
    with pytest.raises(StationError) as refused:
        shape_line(line)
    assert told in refused.value.sentence()


@given(st.text(max_size=60) | st.from_regex(r"(box|cup|volume|ring) [\d.,/ x×½a-z'\"-]{0,40}", fullmatch=True))
def test_no_line_whatever_ends_in_anything_but_a_shape_or_a_sentence(line):
    assert _understood(line)


def _understood(line):
    """The line as it was understood, or the sentence that refuses it; anything else is raised."""
    try:
        return shape_line(line).said
    except StationError as refused:
        return refused.sentence()


def test_shapes_add_up_with_what_is_cut_out():
    answer = worked(SHAPES, {"shapes": "box 120 80 30 mm\nminus 4 × cylinder 20 × 30 mm\n\nvolume 25 ml"})
    total = 288 - 4 * math.pi * 3 + 25
    assert answer.figures["volume_cm3"] == pytest.approx(total)
    assert answer.rows[0].value == "275.3 cm³"
    assert answer.rows[0].rule == "288 + 25 − 37.699 cm³"
    assert [row.label for row in answer.rows[2:]] == [
        "box 120 × 80 × 30 mm",
        "minus 4 × cylinder 20 × 30 mm",
        "volume 25 ml",
    ]
    assert sum(shape["volume_cm3"] for shape in answer.figures["shapes"]) == pytest.approx(total)
    assert [row[1] for row in answer.tables[0].rows] == ["312 cm²", "100.53 cm²", "not known"]


@pytest.mark.parametrize("shapes", ["minus box 1 1 1", "box 1 1 1; minus box 2 2 2", "box 1 1 1\nblob"])
def test_shapes_of_which_nothing_is_left_are_refused(shapes):
    with pytest.raises(NotFilledIn, match=r"taken away|not a shape"):
        worked(SHAPES, {"shapes": shapes})


def test_a_pattern_is_enlarged_against_shrinkage():
    # Geometry: 1/(1 - s); 0.5 % makes 1.0050251.
    answer = worked(SCALE_PART, {"shrinkage": "0.5 %", "length": "250 mm", "volume": "150 ml"})
    assert answer.figures["length_scale"] == pytest.approx(1.0050251, abs=1e-7)
    assert answer.figures["length_mm"] == pytest.approx(251.256, abs=0.001)
    assert answer.figures["volume_cm3"] == pytest.approx(150 * 1.0050251256**3)
    assert answer.figures["surface_scale"] == pytest.approx(1.0050251256**2)
    assert any("1.493 %" in note for note in answer.notes)


def test_shrinkage_is_measured_on_mold_and_part_and_may_differ_by_direction():
    # ASTM D2566: 100 (Lm - Lp)/Lm = 0.3 % for 250 and 249.25 mm.
    answer = worked(SCALE_PART, {"mold-length": "250", "part-length": "249.25", "across": "0.1 %", "enlarge": "1.05"})
    assert answer.figures["shrinkage_percent"] == pytest.approx(0.3)
    assert answer.figures["width_scale"] == pytest.approx(1.05 * 1.001001, abs=1e-6)
    assert answer.figures["height_scale"] == pytest.approx(answer.figures["length_scale"])
    assert "surface_scale" not in answer.figures
    with pytest.raises(NotFilledIn, match="One of two lengths is missing"):
        worked(SCALE_PART, {"mold-length": "250"})
    with pytest.raises(NotFilledIn, match="more than a casting material has"):
        worked(SCALE_PART, {"shrinkage": "30 %"})


@pytest.mark.parametrize("typed", [{"length": "-5 mm"}, {"height": "0 mm"}, {"volume": "0 ml"}])
def test_a_part_of_no_size_is_refused(typed):
    with pytest.raises(NotFilledIn, match=f"The {next(iter(typed))} of the part is"):
        worked(SCALE_PART, typed)


def test_a_size_is_a_length_and_the_next_one_says_that_grading_is_not_uniform():
    # EU = 1.5 x last length in cm; ratio of lasts 42 to 43 and its cube.
    answer = worked(FOOTWEAR, {"system": "Paris point (EU)", "size": "42", "to-size": "43", "volume": "200 ml"})
    assert answer.figures["last_mm"] == pytest.approx(280)
    assert answer.figures["length_scale"] == pytest.approx(1.0238095, abs=1e-7)
    assert answer.figures["volume_if_uniform_cm3"] == pytest.approx(200 * 1.0731427, abs=1e-4)
    assert any("not uniform" in note for note in answer.notes)
    shown = {row.label: row.value for row in answer.rows}
    assert shown["Mondopoint"] == "265.00"
    assert "UK child" not in shown


def test_a_childs_size_is_not_shown_as_an_adults():
    # UK child = 3 x inches - 12: size 10 has a last of 186.2667 mm.
    answer = worked(FOOTWEAR, {"system": "UK child", "size": "10"})
    assert answer.figures["last_mm"] == pytest.approx(186.2667, abs=1e-4)
    assert "UK adult" not in {row.label for row in answer.rows}
    with pytest.raises(NotFilledIn, match="Lasts are 80 to 400 mm"):
        worked(FOOTWEAR, {"size": "420"})
