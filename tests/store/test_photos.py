"""Photos lie beside the record, which vouches for them: what was changed or lost is named by its cast."""

from __future__ import annotations

from pathlib import Path

import pytest

from station.errors import LedgerFault
from station.store.archive import Archive
from station.store.batch_record import as_dict, as_text
from station.store.ledger import SqlLedger
from station.store.photos import FOLDER, PhotosFound, files_of, keep
from station.store.verify import verify, verify_photos
from tests.store.photo_story import add, picture_of, remove, with_photos
from tests.store.stories import a_day


def test_the_record_of_a_cast_tells_of_its_photos_also_long_after_it_ended(tmp_path: Path) -> None:
    with_photos(tmp_path, 1, 3)
    with SqlLedger(tmp_path) as ledger, Archive(tmp_path / "record.db") as archive:
        second = add(ledger, tmp_path, 1, "the toe")
        remove(ledger, 1, second.name)
        record = archive.record(1)
        assert record is not None
        assert record.photos == archive.photos(1)
        assert [(one.caption, one.removed is None) for one in record.photos] == [
            ("of cast 1", True),
            ("the toe", False),
        ]
        assert archive.photos(2) == ()
        text = as_text(record)
        assert f"of cast 1 (page (test phone)), {record.photos[0].name}.jpg" in text
        assert "(page (other phone))" in text
        assert as_dict(record)["photos"][0]["digest"] == record.photos[0].digest
    assert verify(tmp_path / "record.db").ok


def test_a_changed_byte_of_a_photo_is_named_by_its_cast_and_no_record_is_called_damaged(tmp_path: Path) -> None:
    first, second = with_photos(tmp_path, 1, 3)
    record = tmp_path / "record.db"
    assert verify_photos(record) == PhotosFound(whole=2)
    assert verify_photos(record).words() == ""
    small = files_of(tmp_path / FOLDER, second.name).small
    for file in (picture_of(tmp_path, first), small):
        for place in (0, len(file.read_bytes()) - 1):
            content = bytearray(file.read_bytes())
            content[place] ^= 1
            whole = file.read_bytes()
            file.write_bytes(content)
            assert len(verify_photos(record).damaged) == 1
            file.write_bytes(whole)
    small.write_bytes(b"spoilt")
    assert verify_photos(record) == PhotosFound(1, (3,))
    assert verify_photos(record).words() == "Photos of cast 3 are damaged or gone. The record is not."
    assert verify_photos(record, reading=False) == PhotosFound(2)
    picture_of(tmp_path, first).unlink()
    assert verify_photos(record).words().startswith("Photos of casts 1, 3 are damaged")
    assert verify_photos(record, reading=False).damaged == (1,)
    assert verify(record).ok


def test_a_photo_that_was_removed_is_missed_by_nobody(tmp_path: Path) -> None:
    (shot,) = with_photos(tmp_path, 1)
    with SqlLedger(tmp_path) as ledger:
        remove(ledger, 1, shot.name)
    assert picture_of(tmp_path, shot).exists()
    picture_of(tmp_path, shot).unlink()
    assert verify_photos(tmp_path / "record.db") == PhotosFound()


def test_a_caption_that_was_changed_in_the_record_is_found_by_the_chain(tmp_path: Path) -> None:
    import sqlite3
    from contextlib import closing

    with_photos(tmp_path, 1)
    with closing(sqlite3.connect(tmp_path / "record.db")) as db:
        for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            db.execute(f"DROP TRIGGER {name}")
        db.execute("UPDATE journal SET payload = replace(payload, 'of cast 1', 'of cast 2')")
        db.commit()
    assert not verify(tmp_path / "record.db").ok


def test_a_photo_that_cannot_be_kept_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from station.store import photos

    def full(file: Path, content: bytes) -> None:
        if "-small" not in file.name:
            raise LedgerFault("The card is full.")
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(content)

    monkeypatch.setattr(photos, "replace_whole", full)
    with pytest.raises(LedgerFault, match="full"):
        keep(tmp_path / FOLDER, b"picture", b"small")
    assert list((tmp_path / FOLDER).iterdir()) == []


def test_names_are_drawn_by_lot(tmp_path: Path) -> None:
    names = {keep(tmp_path / FOLDER, b"same", b"same") for _ in range(20)}
    assert len(names) == 20
    assert all(len(name) == 16 and name.isalnum() for name in names)


def test_the_day_without_photos_has_none(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day())
    assert verify_photos(tmp_path / "record.db") == PhotosFound()
