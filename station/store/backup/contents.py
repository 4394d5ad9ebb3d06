"""What a backup holds: the record, and the small files beside it. No key and no password."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from station.config import without_passwords

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

    def small_files(self) -> dict[str, bytes]:
        """Name in the backup and content of every file besides the record, as far as it is there now. Raises OSError.

        A password in the settings stays out: a backup is carried about.
        """
        return {
            name: without_passwords(place.read_text(encoding="utf-8")).encode()
            if name.startswith(f"{SETTINGS}/")
            else place.read_bytes()
            for name, place in self._places().items()
        }

    def _places(self) -> dict[str, Path]:
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
