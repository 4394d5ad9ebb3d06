"""The file for helpers when it is made on the command line: what can be told without asking the running station."""

from __future__ import annotations

import shutil
from pathlib import Path

from station.computer.health import health
from station.config import Settings
from station.errors import Refused
from station.overview.desk import known_secrets
from station.overview.program_parts import heat_part, supply_part
from station.overview.sources import told_checks
from station.scale.checks import Checks
from station.support.bundle import Told, bundle, system
from station.support.told_files import told_files
from station.support.told_settings import told_settings
from station.texts import t


def support_without_the_station(settings: Settings, version: str, file: Path) -> None:
    """Write the zip. Raises Refused where there is such a file already, or it cannot be written there."""
    computer = health()
    parts = (heat_part(computer), supply_part(computer))
    told = Told(
        about={
            "version": version,
            "made": t("on the command line"),
            "free_bytes": _free(settings.state_dir),
            **system(),
        },
        health=[(part.title, part.fare.value, part.words) for part in parts],
        settings=told_settings(settings),
        checks=told_checks(Checks(settings.state_dir)),
        files=told_files(settings.state_dir),
        log=(t("The last lines of the log are only in a file that is made on the page Station."),),
        secrets=known_secrets(settings),
    )
    try:
        with file.open("xb") as out:
            out.write(bundle(told))
    except FileExistsError:
        raise Refused(t("{file} is there already.", file=file), t("Choose another name.")) from None
    except OSError as why:
        raise Refused(
            t("{file} cannot be written: {strerror}.", file=file, strerror=why.strerror), t("Choose another place.")
        ) from None


def _free(folder: Path) -> int | None:
    try:
        return shutil.disk_usage(folder).free
    except OSError:
        return None
