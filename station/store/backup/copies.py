"""Copies away from the card: to a stick that is plugged in, or to a folder on another disk or share."""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from station.errors import LedgerFault
from station.keeping import make_folder, sync
from station.store.backup.ages import newest_first, to_prune
from station.store.backup.packing import SUFFIX, Backup, check, label_of
from station.store.faults import told_as_faults

MOUNTS: Final = Path("/proc/self/mounts")
_WHERE_STICKS_GO: Final = ("/media/", "/run/media/", "/mnt/")
FOLDER: Final = "tarebell-backups"
"""The folder on a stick that copies go into."""


@dataclass(frozen=True, slots=True)
class Away:
    """A copy that reached a place. `off_card`: that place is not on the device where the record lies."""

    place: Path
    off_card: bool


def sticks(mounts: Path = MOUNTS) -> tuple[Path, ...]:
    """Folders of the block devices that are mounted where sticks go, and may be written.

    Never the device of the system itself: a service that may write below /media sees that folder as a mount of its own.
    """
    try:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return ()
    told = [(*line.split(" "), "", "", "", "")[:4] for line in lines]
    own = {device for device, point, *_ in told if point == "/"}
    found: list[Path] = []
    for device, written, _, options in told:
        point = written.encode("latin-1", "replace").decode("unicode_escape")  # blanks are written \\040
        stick = device.startswith("/dev/") and device not in own and f"{point}/".startswith(_WHERE_STICKS_GO)
        if stick and "rw" in options.split(","):
            found.append(Path(point) / FOLDER)
    return tuple(found)


def copy_away(backup: Backup, place: Path, state_dir: Path) -> Away:
    """Put a copy of the backup into `place`, read it back, prune what is too old there. Raises LedgerFault."""
    target, beside = place / backup.file.name, place / f".{backup.file.name}.new"
    with told_as_faults(place):
        make_folder(place)
        if not (target.is_file() and target.stat().st_size == backup.file.stat().st_size):
            try:
                with backup.file.open("rb") as source, beside.open("wb") as out:
                    shutil.copyfileobj(source, out, 1 << 20)
                    out.flush()
                    os.fsync(out.fileno())
                check(beside)
                beside.replace(target)
                sync(place)
            finally:
                beside.unlink(missing_ok=True)
        _prune(place)
        return Away(place, os.stat(place).st_dev != os.stat(state_dir).st_dev)


def _prune(place: Path) -> None:
    there: list[Backup] = []
    for file in sorted(place.glob(f"tarebell-*{SUFFIX}")):
        try:
            there.append(Backup(file, label_of(file)))
        except LedgerFault:
            continue  # not ours, or torn: a person shall decide
    for old in to_prune(newest_first(there)):
        old.file.unlink(missing_ok=True)
