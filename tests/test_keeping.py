"""Small files beside the record: whole, in order, and a sentence when the disk does not take them."""

from __future__ import annotations

from pathlib import Path

import pytest

from station.errors import LedgerFault
from station.keeping import append_line, replace_whole


def test_a_file_is_replaced_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    file = tmp_path / "state" / "scale.json"
    replace_whole(file, "one")
    replace_whole(file, "two")
    assert file.read_text() == "two"
    assert list(file.parent.iterdir()) == [file]


def test_a_line_after_a_torn_one_is_a_line_of_its_own(tmp_path: Path) -> None:
    file = tmp_path / "checks"
    append_line(file, "one")
    with file.open("a") as out:
        out.write("tor")
    append_line(file, "two")
    append_line(file, "three")
    assert file.read_text().splitlines() == ["one", "tor", "two", "three"]


def test_a_place_that_cannot_be_written_is_a_sentence_and_leaves_the_old_file(tmp_path: Path) -> None:
    file = tmp_path / "scale.json"
    replace_whole(file, "old")
    (tmp_path / ".scale.json.new").mkdir()
    with pytest.raises(LedgerFault, match=r"scale\.json cannot be written: Is a directory"):
        replace_whole(file, "new")
    assert file.read_text() == "old"
    with pytest.raises(LedgerFault, match="cannot be written"):
        append_line(file / "below", "line")
