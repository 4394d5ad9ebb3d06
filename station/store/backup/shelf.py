"""The folder of backups: what is in it, make one more, let go of those that are too old."""

from __future__ import annotations

import logging
import threading
from pathlib import Path

from station.config import Settings
from station.core.moment import Moment
from station.errors import LedgerFault
from station.store.backup.ages import newest_first, to_prune
from station.store.backup.contents import Belongings
from station.store.backup.packing import SUFFIX, Backup, check, label_of, pack
from station.store.backup.photos import Carried, carry
from station.store.faults import told_as_faults
from station.store.photos import FOLDER as PHOTOS
from station.store.verify import verify
from station.store.walker import Walk

log = logging.getLogger("tarebell.backup")


class BackupShelf:
    """Backups of one station in one folder. Called from many threads; one backup is made at a time.

    `walk` checks the record of each new one.
    """

    def __init__(self, belongings: Belongings, folder: Path, version: str, walk: Walk = verify) -> None:
        self.belongings, self.folder, self._version, self._walk = belongings, folder, version, walk
        self._lock = threading.Lock()

    def all(self) -> list[Backup]:
        """The backups that have a label, newest first; nothing is checked. An unreadable folder has none."""
        found: list[Backup] = []
        try:
            files = sorted(self.folder.glob(f"*{SUFFIX}"))
        except OSError:
            return []
        for file in files:
            if file.name.startswith("."):
                continue
            try:
                found.append(Backup(file, label_of(file)))
            except LedgerFault as why:
                log.warning("no backup file=%s why=%s", file, why)
        return newest_first(found)

    def make(self, at: Moment, why: str) -> Backup:
        """Make a backup now, checked; then let go of old ones. Raises LedgerFault, and then nothing was let go of."""
        with self._lock:
            backup = pack(self.belongings, self.folder, at, self._version, why, walk=self._walk)
            for old in to_prune(self.all()):
                if old.file != backup.file:
                    with told_as_faults(old.file):
                        old.file.unlink(missing_ok=True)
        log.info("backup made file=%s rows=%d why=%s", backup.file, backup.label.rows, why)
        return backup

    def carry_photos(self, place: Path | None = None) -> Carried:
        """Copy what photos are not there yet beside the backups, or to another place of copies. Raises LedgerFault."""
        with self._lock:
            return carry(self.belongings.state_dir / PHOTOS, self.folder if place is None else place)

    def newest_good(self, first: str = "") -> Backup | None:
        """The newest backup that passes its check; None when there is none.

        `first`, where known, is the digest of the record's first row: backups of another history are passed over.
        """
        for backup in self.all():
            if first and backup.label.first != first:
                continue
            try:
                check(backup.file)
            except LedgerFault as why:
                log.warning("backup passed over file=%s why=%s", backup.file, why)
                continue
            return backup
        return None


def shelf_of(settings: Settings, version: str, walk: Walk = verify) -> BackupShelf:
    """The backups of the station with these settings."""
    files = () if settings.file is None else (settings.file, *settings.sheets)
    folder = settings.backup.folder or settings.state_dir / "backups"
    return BackupShelf(Belongings(settings.state_dir, files), folder, version, walk)
