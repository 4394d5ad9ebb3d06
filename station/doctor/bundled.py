"""The file for somebody who helps, made without the running station: the findings, and what else may be told."""

from __future__ import annotations

import socket
from collections.abc import Sequence
from pathlib import Path

from station.config import Settings
from station.doctor.finding import Looked
from station.errors import Refused
from station.overview.desk import known_secrets
from station.overview.sources import told_checks
from station.scale.checks import Checks
from station.support.bundle import Told, bundle, system
from station.support.told_files import told_files
from station.support.told_settings import told_settings
from station.texts import t


def write_bundle(settings: Settings | None, checks: Sequence[Looked], version: str, file: Path) -> None:
    """Write the zip. Raises Refused where there is such a file already, or it cannot be written there.

    Without `settings`, because they cannot be read, it holds little more than the findings.
    """
    content = bundle(_told(settings, checks, version))
    try:
        with file.open("xb") as out:
            out.write(content)
    except FileExistsError:
        raise Refused(t("{file} is there already.", file=file), t("Choose another name.")) from None
    except OSError as why:
        raise Refused(
            t("{file} cannot be written: {strerror}.", file=file, strerror=why.strerror), t("Choose another place.")
        ) from None


def _told(settings: Settings | None, checks: Sequence[Looked], version: str) -> Told:
    about = {"version": version, "made": t("on the command line"), **system()}
    health = [
        (one.title, t(bare.verdict.word), f"{bare.told} {bare.cure}".strip())
        for one in checks
        for bare in (finding.without_names() for finding in one.findings)
    ]
    log = (t("The last lines of the log are only in a file that is made on the page Station."),)
    host = (socket.gethostname(),)
    if settings is None:
        return Told(about, health, log=log, secrets=host)
    return Told(
        about,
        health,
        told_settings(settings),
        told_checks(Checks(settings.state_dir)),
        told_files(settings.state_dir),
        log,
        known_secrets(settings, host),
    )
