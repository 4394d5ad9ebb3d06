"""What a backup holds: the record, and the small files beside it. No key and no password."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

RECORD: Final = "record.db"
BESIDE: Final = "beside"
"""Folder in a backup for what lies beside the record in the state folder."""
SETTINGS: Final = "settings"
"""Folder in a backup for the settings file and the sheets that it names."""
_SMALL_FILES: Final = ("scale.json", "scale-checks.jsonl", "station.id")
_SHEETS: Final = "sheets"


@dataclass(frozen=True, slots=True)
class Belongings:
    """Where the things of one station lie: its state folder, and files and folders of its settings."""

    state_dir: Path
    settings: tuple[Path, ...] = ()

    @property
    def record(self) -> Path:
        """The record's file."""
        return self.state_dir / RECORD

    def small_files(self) -> dict[str, Path]:
        """Name in the backup and place of every file besides the record, as far as it is there now."""
        found: dict[str, Path] = {}
        for name in _SMALL_FILES:
            if (self.state_dir / name).is_file():
                found[f"{BESIDE}/{name}"] = self.state_dir / name
        for file in sorted((self.state_dir / _SHEETS).glob("*.toml")):
            found[f"{BESIDE}/{_SHEETS}/{file.name}"] = file
        for place in self.settings:
            for file in sorted(place.rglob("*.toml")) if place.is_dir() else [place]:
                if file.is_file():
                    inner = file.relative_to(place.parent)
                    found[f"{SETTINGS}/{inner.as_posix()}"] = file
        return found
