"""Photos at the command line: `verify` names the spoilt ones, `backup` copies them, `restore` brings them back."""

from __future__ import annotations

from pathlib import Path

from tests.store.photo_story import picture_of, with_photos
from tests.system.test_commands import tarebell


def test_a_spoilt_photo_is_named_and_comes_back_from_where_backups_go(tmp_path: Path) -> None:
    state, stick = tmp_path / "state", tmp_path / "stick"
    state.mkdir()
    first, _ = with_photos(state, 1, 3)
    whole = tarebell("verify", "--state", state)
    assert whole.returncode == 0
    made = tarebell("backup", "--state", state, "--to", stick)
    assert f"2 photos are in {stick / 'photos'}, 2 of them new." in made.stdout
    again = tarebell("backup", "--state", state)
    assert "2 photos are in" in again.stdout
    picture_of(state, first).unlink()
    told = tarebell("verify", "--state", state)
    assert (told.returncode, told.stderr) == (4, "")
    assert told.stdout == f"{whole.stdout.strip()} Photos of cast 1 are damaged or gone. The record is not.\n"
    assert "Photos brought back: 1." in tarebell("restore", "--state", state).stdout
    assert picture_of(state, first).read_bytes() == first.picture
    assert tarebell("verify", "--state", state).returncode == 0
