"""What an installed version is asked, by its own commands, as the station's user."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from station.installing.faults import InstallFault, NotNow
from station.installing.machine import Machine, Ran, failure
from station.installing.places import USER, Places
from station.installing.versions import Version
from station.texts import t

_WORK_S = 900.0
_LOOK_S = 120.0
BUSY = 3


@dataclass(frozen=True, slots=True)
class Asking:
    """Asks the versions on one machine."""

    machine: Machine
    places: Places

    def settings_hold(self, version: Version) -> None:
        """Raises InstallFault with all that this version finds wrong with the settings."""
        self._told(version, "check-settings", limit_s=_LOOK_S)

    def nothing_runs(self, version: Version) -> None:
        """Raises NotNow while a cast is at the bench or a clock runs, InstallFault when that cannot be found out."""
        self._idle(version)

    def backup(self, version: Version) -> str | None:
        """The backup that it makes, once nothing runs; None when there is no record yet. Raises as `nothing_runs`."""
        return self._idle(version, "--backup")

    def read_ahead(self, version: Version) -> str:
        """Let it read the whole record, so that its first start is short; why that was not done, empty when it was.

        An older version knows no such command, and a record in another form may not be readable yet.
        """
        command = "read-ahead"
        ran = self._ran(version, command, limit_s=_WORK_S)
        return "" if ran.well else failure(("tarebell", command), ran, _WORK_S)

    def restore(self, version: Version, backup: str) -> None:
        """Go back to that backup; the present record is set aside. The station must be stopped. Raises InstallFault."""
        self._told(version, "restore", backup, "--instead", limit_s=_WORK_S)

    def told(self, version: Version, what: str) -> str:
        """What a command says, well or not; "" when it has nothing to say."""
        return self._ran(version, what, limit_s=_LOOK_S).said.strip()

    def _idle(self, version: Version, *more: str) -> str | None:
        ran = self._ran(version, "idle", "--json", *more, limit_s=_WORK_S)
        try:
            said = json.loads(ran.said.splitlines()[-1])
            busy, backup = str(said["busy"]), said["backup"]
        except (ValueError, KeyError, IndexError, TypeError):
            raise InstallFault(
                t("It cannot be found out whether a cast is at the bench: {why}", why=ran.said.strip() or "?"),
                t("Nothing was changed."),
            ) from None
        if ran.code == BUSY or busy:
            raise NotNow(busy)
        return None if backup is None else str(backup)

    def _told(self, version: Version, *words: str, limit_s: float) -> str:
        ran = self._ran(version, *words, limit_s=limit_s)
        if not ran.well:
            raise InstallFault(failure(("tarebell", *words), ran, limit_s))
        return ran.said

    def _ran(self, version: Version, *words: str, limit_s: float) -> Ran:
        program, settings = self.places.seen(version.program), self.places.seen(self.places.settings)
        command = ("runuser", "-u", USER, "--", program, *words, "--config", settings)
        return self.machine.run(*command, limit_s=limit_s)


def record_version(state: Path) -> str | None:
    """The version of the record's form; None when there is no record, or none that can be read."""
    place = state / "record.db"
    if not place.is_file():
        return None
    try:
        with closing(sqlite3.connect(f"{place.as_uri()}?mode=ro", uri=True)) as db:
            found = db.execute("SELECT version_num FROM alembic_version").fetchone()
    except (sqlite3.Error, UnicodeDecodeError):  # the latter: of a message that cites a spoilt schema
        return None
    return None if found is None else str(found[0])
