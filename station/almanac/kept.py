"""What of the calendar is kept beside the record: the secret part of its address, and the dates given out."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from station.almanac.issue import Issue, Issues
from station.errors import LedgerFault
from station.keeping import replace_whole
from station.texts import t

FILE: Final = "calendar.json"


@dataclass(frozen=True, slots=True)
class Kept:
    """`secret`: empty while nobody has asked for the calendar's address."""

    secret: str = ""
    issues: Issues = ()


def read(folder: Path) -> Kept:
    """What is kept. Raises LedgerFault when it cannot be read."""
    try:
        said = json.loads((folder / FILE).read_text(encoding="utf-8"))
        issues = tuple(
            Issue(str(uid), _when(due), int(sequence), _when(changed)) for uid, due, sequence, changed in said["issues"]
        )
        return Kept(str(said["secret"]), issues)
    except FileNotFoundError:
        return Kept()
    except OSError as why:
        raise LedgerFault(t("{file} cannot be read: {why}.", file=FILE, why=why.strerror)) from why
    except (ValueError, KeyError, TypeError):
        raise LedgerFault(
            t("{file} cannot be understood.", file=FILE), t("Give the calendar a new address on its page.")
        ) from None


def keep(folder: Path, kept: Kept) -> None:
    """Keep it, for the station's user alone. Raises LedgerFault; the file then is as it was."""
    issues = [[one.uid, one.due.isoformat(), one.sequence, one.changed.isoformat()] for one in kept.issues]
    text = json.dumps({"secret": kept.secret, "issues": issues}, indent=1)
    replace_whole(folder / FILE, text + "\n", private=True)


def _when(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)
