"""The note of when a copy last left the card, and where to."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from station.keeping import replace_whole

_FILE: Final = "left-the-card.json"


@dataclass(frozen=True, slots=True)
class Left:
    """A copy of a backup with `rows` journal rows went to `where` at `at` (UTC)."""

    at: datetime
    rows: int
    where: str


def note_left(folder: Path, left: Left) -> None:
    """Keep the note in `folder`. Raises LedgerFault."""
    replace_whole(folder / _FILE, json.dumps({"at": left.at.isoformat(), "rows": left.rows, "where": left.where}))


def last_left(folder: Path) -> Left | None:
    """The note; None when there is none that can be read."""
    try:
        told = json.loads((folder / _FILE).read_text(encoding="utf-8"))
        return Left(datetime.fromisoformat(told["at"]).astimezone(UTC), int(told["rows"]), str(told["where"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None
