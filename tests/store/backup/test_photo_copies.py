"""Photos are copied to the backups once each, never overwritten there, and brought back when they are gone."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from station.errors import LedgerFault
from station.restoring import restored_on_request
from station.store.backup import photos
from station.store.backup.contents import Belongings
from station.store.backup.photos import Carried, bring_back, carry
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.photos import FOLDER, files_of
from station.store.verify import verify_photos
from tests.store.backup.test_backups import AT
from tests.store.photo_story import add, picture_of, with_photos


def other_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """A place where no second name for the same bytes can be had."""

    def refused(*_: object) -> None:
        raise OSError(18, "Invalid cross-device link")

    monkeypatch.setattr(photos.os, "link", refused)


def shelf_of(state: Path) -> BackupShelf:
    return BackupShelf(Belongings(state), state / "backups", "0.1")


@pytest.mark.parametrize("linked", [True, False])
def test_each_photo_is_copied_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, linked: bool) -> None:
    state, place = tmp_path / "state", tmp_path / "stick"
    state.mkdir()
    if not linked:
        other_disk(monkeypatch)
    (shot,) = with_photos(state, 1)
    assert carry(state / FOLDER, place) == Carried(new=2, there=2)
    assert carry(state / FOLDER, place) == Carried(new=0, there=2)
    copy = place / FOLDER / f"{shot.name}.jpg"
    assert copy.read_bytes() == shot.picture
    assert (copy.stat().st_ino == picture_of(state, shot).stat().st_ino) is linked
    with SqlLedger(state) as ledger:
        add(ledger, state, 2, "another")
    assert carry(state / FOLDER, place) == Carried(new=2, there=4)
    assert not list(place.rglob(".*"))


def test_where_there_is_no_photo_no_folder_is_made(tmp_path: Path) -> None:
    assert carry(tmp_path / "state" / FOLDER, tmp_path / "stick") == Carried(0, 0)
    assert not (tmp_path / "stick").exists()


def test_what_a_power_cut_left_half_written_is_not_carried(tmp_path: Path) -> None:
    (tmp_path / FOLDER).mkdir()
    (tmp_path / FOLDER / ".ab.jpg.new").write_bytes(b"half")
    (tmp_path / FOLDER / ".cd.jpg").write_bytes(b"half")
    assert carry(tmp_path / FOLDER, tmp_path / "stick") == Carried(0, 0)


def test_a_good_copy_is_never_replaced_by_a_photo_that_was_damaged_since(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other_disk(monkeypatch)
    (shot,) = with_photos(tmp_path, 1)
    carry(tmp_path / FOLDER, tmp_path / "backups")
    picture_of(tmp_path, shot).write_bytes(b"torn")
    carry(tmp_path / FOLDER, tmp_path / "backups")
    assert (tmp_path / "backups" / FOLDER / f"{shot.name}.jpg").read_bytes() == shot.picture


def test_what_is_gone_or_damaged_is_brought_back_from_whichever_place_has_it_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other_disk(monkeypatch)
    record, stick, backups = tmp_path / "record.db", tmp_path / "stick", tmp_path / "backups"
    gone, damaged, whole, lost = with_photos(tmp_path, 1, 2, 3, 3)
    carry(tmp_path / FOLDER, stick)
    carry(tmp_path / FOLDER, backups)
    picture_of(tmp_path, gone).unlink()
    files_of(tmp_path / FOLDER, gone.name).small.unlink()
    (backups / FOLDER / f"{gone.name}.jpg").write_bytes(b"spoilt here, but not on the stick")
    picture_of(tmp_path, damaged).write_bytes(b"spoilt")
    picture_of(tmp_path, lost).unlink()
    for place in (stick, backups):
        (place / FOLDER / f"{lost.name}.jpg").unlink()
    assert bring_back(record, tmp_path, (backups, stick)) == 2
    assert picture_of(tmp_path, gone).read_bytes() == gone.picture
    assert picture_of(tmp_path, damaged).read_bytes() == damaged.picture
    assert (tmp_path / FOLDER / f"{damaged.name}.jpg.damaged").read_bytes() == b"spoilt"
    assert picture_of(tmp_path, whole).read_bytes() == whole.picture
    assert verify_photos(record).damaged == (3,)
    assert bring_back(record, tmp_path, (backups, stick)) == 0


def test_a_record_that_is_brought_back_onto_a_new_card_has_its_photos(tmp_path: Path) -> None:
    old, new, stick = tmp_path / "old", tmp_path / "new", tmp_path / "stick"
    old.mkdir()
    shots = with_photos(old, 1, 3)
    made = shelf_of(old).make(AT, "test")
    stick.mkdir()
    shutil.copy(made.file, stick)
    shelf_of(old).carry_photos(stick)
    told = list(restored_on_request(shelf_of(new), stick / made.file.name, False, AT))
    assert "Photos brought back: 2." in told
    assert [picture_of(new, shot).read_bytes() for shot in shots] == [shot.picture for shot in shots]
    assert verify_photos(new / "record.db").damaged == ()


def test_a_record_that_is_whole_gets_back_only_its_photos(tmp_path: Path) -> None:
    (shot,) = with_photos(tmp_path, 2)
    shelf = shelf_of(tmp_path)
    assert shelf.carry_photos().new == 2
    picture_of(tmp_path, shot).unlink()
    told = list(restored_on_request(shelf, None, False, AT))
    assert [words for words in told if "Photos" in words] == ["Photos brought back: 1."]
    assert "nothing to restore" in told[0]
    assert picture_of(tmp_path, shot).read_bytes() == shot.picture


def test_a_place_that_takes_nothing_is_a_sentence(tmp_path: Path) -> None:
    with_photos(tmp_path, 1)
    (tmp_path / "stick").write_text("a file in the way")
    with pytest.raises(LedgerFault, match="stick"):
        carry(tmp_path / FOLDER, tmp_path / "stick")


def test_a_copy_that_cannot_be_read_back_as_it_was_is_not_left_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other_disk(monkeypatch)
    with_photos(tmp_path, 1)
    monkeypatch.setattr(photos, "digest_of", lambda content: os.urandom(4).hex())
    with pytest.raises(LedgerFault):
        carry(tmp_path / FOLDER, tmp_path / "stick")
    assert list((tmp_path / "stick" / FOLDER).iterdir()) == []
