"""Photos in an export: they come along with the log to another station, or it is said that they did not."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from station.cli import main
from station.errors import LedgerFault
from station.photos.limits import ANSWER_BYTES
from station.store.ledger import SqlLedger
from station.store.verify import verify, verify_photos
from tests.store.photo_story import picture_of, remove, with_photos


def run(command: str, file: Path, state: str, *more: str) -> Result:
    """The command for this file and a state folder beside it, or beside what it lies in."""
    root = next(folder for folder in file.parents if (folder / "there").is_dir())
    return CliRunner().invoke(main, [command, str(file), "--state", str(root / state), *more])


@pytest.mark.parametrize("form", ["folder", "zip", "unpacked zip", "log.jsonl of it"])
def test_photos_come_along_each_as_it_was_taken(tmp_path: Path, form: str) -> None:
    shots = with_photos(tmp_path / "there", 1, 3)
    file = tmp_path / ("out.zip" if "zip" in form else "out")
    assert run("export", file, "there").exit_code == 0
    if form == "unpacked zip":
        shutil.unpack_archive(file, tmp_path / "unpacked")
        file = tmp_path / "unpacked"
    said = run("import", file / "log.jsonl" if form == "log.jsonl of it" else file, "here")
    assert "With 2 photos, each as it was taken." in said.output
    assert "did not come along" not in said.output
    assert [picture_of(tmp_path / "here", shot).read_bytes() for shot in shots] == [shot.picture for shot in shots]
    for shot in shots:  # whoever changes a photo in the export changes no other one
        assert picture_of(tmp_path / "here", shot).stat().st_nlink == 1
        assert picture_of(tmp_path / "there", shot).stat().st_nlink == 1
    found = verify_photos(tmp_path / "here" / "record.db")
    assert (found.whole, found.damaged) == (2, ())
    assert not list((tmp_path / "here").glob(".import-*"))


def test_a_photo_that_is_damaged_or_was_removed_stays_behind_and_that_is_said(tmp_path: Path) -> None:
    first, second, third = with_photos(tmp_path / "there", 1, 2, 3)
    picture_of(tmp_path / "there", second).write_bytes(b"\xff\xd8\xff other")
    with SqlLedger(tmp_path / "there") as ledger:
        remove(ledger, 3, third.name)
    assert run("export", tmp_path / "out", "there").exit_code == 0
    assert sorted(file.name for file in (tmp_path / "out" / "photos").iterdir()) == sorted(
        (f"{first.name}.jpg", f"{first.name}-small.jpg")
    )
    said = run("import", tmp_path / "out", "here").output
    assert "With 1 photo, as it was taken." in said
    assert "Photos of cast 2 did not come along. Copy what the other station has in its folder “photos” into" in said
    assert picture_of(tmp_path / "here", first).read_bytes() == first.picture


def test_a_folder_without_a_log_is_named_itself(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    said = run("import", tmp_path / "there", "here").output
    assert said.startswith(f"{tmp_path / 'there'} holds no log.jsonl. Nothing was changed.")


def test_without_photos_it_says_where_they_are(tmp_path: Path) -> None:
    with_photos(tmp_path / "there", 1)
    assert run("export", tmp_path / "out.zip", "there", "--no-photos").exit_code == 0
    with zipfile.ZipFile(tmp_path / "out.zip") as box:
        assert not [name for name in box.namelist() if "photos/" in name]
    said = run("import", tmp_path / "out.zip", "here").output
    assert "Photos of cast 1 did not come along. Copy" in said


def test_what_only_looks_like_a_photo_in_a_zip_is_not_taken(tmp_path: Path) -> None:
    (shot,) = with_photos(tmp_path / "there", 1)
    assert run("export", tmp_path / "out", "there").exit_code == 0
    with zipfile.ZipFile(tmp_path / "out.zip", "w") as box:
        box.write(tmp_path / "out" / "log.jsonl", "log.jsonl")
        box.writestr("photos/../../elsewhere.jpg", shot.picture)
        box.writestr(f"photos/{shot.name}.jpg", b"\0" * (ANSWER_BYTES + 1))
        box.writestr(f"photos/{shot.name}-small.jpg", shot.small)
        box.writestr("photos/0123456789abcdef.jpg", shot.picture)
    said = run("import", tmp_path / "out.zip", "here").output
    assert "Photos of cast 1 did not come along. Copy" in said
    assert not list(tmp_path.rglob("elsewhere.jpg"))
    assert not list((tmp_path / "here").rglob("*.jpg"))


def test_a_disk_that_takes_no_photo_has_taken_the_log_and_says_both(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_photos(tmp_path / "there", 1)
    assert run("export", tmp_path / "out.zip", "there").exit_code == 0

    def full(*_: object, **__: object) -> int:
        raise LedgerFault("The disk is full.", "Make room.")

    monkeypatch.setattr("station.store.log_import.bring_back", full)
    said = run("import", tmp_path / "out.zip", "here")
    assert said.exit_code == 1
    assert "each as it was written." in said.output
    assert "Photos of cast 1 did not come along." in said.output
    assert "The disk is full. Make room." in said.output
    assert verify(tmp_path / "here" / "record.db").ok
