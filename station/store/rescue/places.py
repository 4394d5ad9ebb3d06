"""Where a damaged record and those set aside before it lie, file by file."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from station.store.backup.contents import RECORD

DONE: Final = "restored.json"
"""In a folder of set-aside files: what was in them has been restored, as far as it could be."""
SET_ASIDE: Final = "set-aside-"
PARTS: Final = ("", "-wal", "-shm", "-journal")
"""The files of one SQLite database."""


def parts(record: Path) -> tuple[Path, ...]:
    """The files of a record that are there."""
    found = (record.with_name(record.name + part) for part in PARTS)
    return tuple(file for file in found if file.is_file())


def sources(state_dir: Path) -> tuple[Path, ...]:
    """Records that may still hold rows: the one in place, and those set aside by a restoring that did not end."""
    folders = sorted(state_dir.glob(f"{SET_ASIDE}*"), reverse=True)
    asides = [folder / RECORD for folder in folders if not (folder / DONE).exists()]
    return tuple(record for record in (state_dir / RECORD, *asides) if record.is_file())
