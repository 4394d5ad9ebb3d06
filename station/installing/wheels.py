"""Filling a folder with all packages that a bench without Internet needs."""

from __future__ import annotations

import tempfile
from pathlib import Path

from station.installing.faults import InstallFault
from station.installing.machine import Machine, required
from station.installing.source import Source
from station.texts import t

_LONG_S = 3600.0
_BUILDS_WITH = "hatchling>=1.26"


def filled(machine: Machine, source: Source, python: str, folder: Path) -> int:
    """Put every package that the source and its extras need into `folder`; how many there are. Raises InstallFault.

    They suit computers with the same Python and processor. The station itself is built on the bench, from its source.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir="/var/tmp") as room:
        required(machine, python, "-m", "venv", room, limit_s=_LONG_S)
        pip = (f"{room}/bin/python", "-m", "pip", "wheel", "--quiet", "--no-cache-dir", "--prefer-binary")
        command = (*pip, "--wheel-dir", str(folder))
        hint = t("This needs Internet.")
        required(machine, *command, str(source.folder), *source.extras["shared"], limit_s=_LONG_S, hint=hint)
        required(machine, *command, _BUILDS_WITH, limit_s=_LONG_S, hint=hint)
        # Not for every Python, and on Raspberry Pi OS the system has it.
        machine.run(*command, "--only-binary", "lgpio", *source.extras["pi"], limit_s=_LONG_S)
    for own in folder.glob("tarebell-*.whl"):
        own.unlink()
    found = len(list(folder.glob("*.whl")))
    if not found:
        raise InstallFault(t("No package came into {folder}.", folder=folder))
    return found
