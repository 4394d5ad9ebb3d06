"""Labels: each code can be read at 300 dots an inch and lies on its own label, in every size.

Codes are read by zxing-cpp out of what PDFium renders. Where labels lie on a sheet is reckoned here from their
dimensions in mm; those are common practice, without a source.
"""

from __future__ import annotations

import io

import pytest

from station.errors import WrongField
from station.export.form import Told
from station.export_desk.cast_labels import labels
from station.export_desk.label_wish import KEYS, KINDS, LabelWish
from station.paper.label_sizes import BY_KEY
from station.store.archive import Archive
from tests.export.logs import two_casts, written
from tests.paper.printed import Printed

URL = "http://wrenfield-bench.local:8060/log/123456"
"""As long as such an address may become."""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    place = written(tmp_path_factory.mktemp("state"), two_casts())
    with Archive(place) as archive:
        whole = archive.whole(1)
    assert whole is not None
    return Told(whole.record, whole.plan)


def printed(told: Told, on: str, key: str, copies: int = 1, start: int = 1) -> Printed:
    out = io.BytesIO()
    labels(told, LabelWish.of(on, key, copies, start), URL, out)
    return Printed(out.getvalue())


@pytest.mark.parametrize("key", KEYS)
def test_every_size_has_a_code_that_can_be_read_on_each_label(told: Told, key: str) -> None:
    size, sheet = BY_KEY[key], BY_KEY[key].on_sheet
    paper = printed(told, "mold", key, copies=2)
    assert paper.pages == (1 if sheet else 2)
    assert paper.size_mm() == pytest.approx((210, 297) if sheet else (size.wide, size.high), abs=0.1)
    codes = paper.codes()
    assert [one.text for one in codes] == [URL] * (2 if sheet else 1)
    for place, one in enumerate(sorted(codes, key=lambda one: (round(one.y), one.x))):
        # Columns and gaps fill the width but for equal margins.
        margin = (210 - size.columns * size.wide - (size.columns - 1) * size.gap) / 2 if sheet else 0
        left = margin + place * (size.wide + size.gap)
        assert left < one.x < left + size.wide / 2


def test_a_used_sheet_goes_on_where_it_is_free_and_then_on_the_next(told: Told) -> None:
    paper = printed(told, "part", "a4-3x8", copies=4, start=23)
    assert paper.pages == 2
    last, first = paper.codes(0), paper.codes(1)
    # 3 × 8 labels of 70 × 37 mm fill A4 but for 0.5 mm above: places 23 and 24 are the last two of the lowest row.
    assert [round(one.x // 70) for one in sorted(last, key=lambda one: one.x)] == [1, 2]
    assert all(0.5 + 7 * 37 < one.y < 0.5 + 8 * 37 for one in last)
    assert [round(one.x // 70) for one in sorted(first, key=lambda one: one.x)] == [0, 1]
    assert all(0.5 < one.y < 37.5 for one in first)


@pytest.mark.parametrize("on", KINDS)
def test_a_label_says_what_is_needed_where_it_sticks(told: Told, on: str) -> None:
    said = printed(told, on, "100x50").text()
    needed = {
        "part": ["1", "Kayak seat pad", "Seat foam", "2026-03-02"],
        "mold": ["1", "Kayak seat pad", "Seat foam", "poured 2026-03-02", "in the mold at least 20 min"],
        "cup": ["1", "Seat foam", "A 100 : B 60 by weight", "A A-0417, B B-0093"],
    }
    assert [words for words in needed[on] if words not in said] == []


def test_no_label_reaches_the_edge_of_a_sheet_that_a_printer_leaves_blank(told: Told) -> None:
    for key in ("a4-3x8", "a4-3x10", "a4-5x13"):
        places = BY_KEY[key].places
        picture = printed(told, "mold", key, copies=min(100, places)).picture().convert("L")
        box = picture.point(lambda dot: 255 if dot < 200 else 0).getbbox()
        assert box is not None
        edge = 4.5 * 300 / 25.4
        assert box[0] > edge
        assert box[1] > edge
        assert box[2] < picture.width - edge


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (("lid", "50x25", "1", "1"), "on"),
        (("part", "50x26", "1", "1"), "size"),
        (("part", "50x25", "0", "1"), "copies"),
        (("part", "50x25", "101", "1"), "copies"),
        (("part", "50x25", "one", "1"), "copies"),
        (("part", "50x25", "1", "2"), "start"),
        (("part", "a4-3x8", "1", "25"), "start"),
        (("part", "a4-3x8", "1", "²"), "start"),
    ],
)
def test_a_wish_that_cannot_be_is_refused_by_its_field(typed: tuple[str, str, str, str], field: str) -> None:
    with pytest.raises(WrongField) as slip:
        LabelWish.of(*typed)
    assert slip.value.field == field
