"""Building a version: its own Python environment beside the others, from the Internet or from a folder of wheels."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from station.installing.faults import InstallFault
from station.installing.machine import Machine, required
from station.installing.places import FIXED
from station.installing.source import Source
from station.installing.versions import BUILT, Version
from station.installing.writing import content, point, put
from station.keeping import make_folder
from station.texts import N_, t

NEEDS_MB = 700
"""A version takes up to 400 MB; as much again while it is built (measured on amd64; not tried on a Pi)."""
_QUICK_S, _ENVIRONMENT_S, _INSTALL_S = 60.0, 300.0, 3600.0
_NO_WHEELS = N_(
    "Fill the folder on a computer with Internet and the same system: systemd/install --fill-wheels FOLDER."
)
_NO_NET = N_("Is there Internet? Without it: --wheels FOLDER, filled before by --fill-wheels FOLDER.")
_PINS = "lgpio"


@dataclass(frozen=True, slots=True)
class Builder:
    """How versions are built here: with which Python, from which folder of wheels (None: from the Internet)."""

    machine: Machine
    root: Path
    python: str
    wheels: Path | None = None

    def build(self, source: Source, version: Version, *, shared: bool) -> None:
        """Build it to its end, or raise InstallFault; then it does not count. `shared`: with the driver of [shared]."""
        if (free := self.machine.free_mb(version.folder)) < NEEDS_MB:
            raise InstallFault(
                t("There are {free} MB free where versions lie; {need} MB are needed.", free=free, need=NEEDS_MB),
                t("Make room on the card and run the same command again."),
            )
        try:
            make_folder(version.folder.parent)
        except OSError as why:
            raise InstallFault(t("{file} cannot be made: {why}.", file=version.folder, why=why.strerror)) from why
        folder = str(version.folder)
        required(self.machine, self.python, "-m", "venv", "--clear", folder, limit_s=_ENVIRONMENT_S)
        self.install(version, str(source.folder), *(source.extras["shared"] if shared else ()))
        self._pins(source, version)
        for name in FIXED:
            put(version.folder / "system" / name, source.file(name))
        required(self.machine, str(version.program), "--version", limit_s=_QUICK_S)
        # On the card before it counts: the switch to it must not be on the disk before it is.
        required(self.machine, "sync", "--file-system", folder, limit_s=_ENVIRONMENT_S)
        put(version.folder / BUILT, source.digest)

    def install(self, version: Version, *what: str) -> None:
        """Put packages into a version's environment. Raises InstallFault."""
        self._pip(version, "install", *what)

    def _pip(self, version: Version, *words: str) -> None:
        where = [] if self.wheels is None else ["--no-index", "--find-links", str(self.wheels)]
        hint = t(_NO_NET) if self.wheels is None else t(_NO_WHEELS)
        command = [str(version.folder / "bin/python"), "-m", "pip", words[0], "--quiet", "--no-cache-dir"]
        required(self.machine, *command, "--prefer-binary", *where, *words[1:], limit_s=_INSTALL_S, hint=hint)

    def _pins(self, source: Source, version: Version) -> None:
        """The library for the pins: the system's, of which the environment sees nothing else; else a ready wheel.

        A machine without it runs on simulated pins and says so, which is no reason to stop here.
        """
        system = self.root / "usr/lib/python3/dist-packages"
        found = [*system.glob(f"{_PINS}.py"), *system.glob(f"_{_PINS}.*.so"), *system.glob(f"{_PINS}-*info")]
        for packages in sorted(version.folder.glob("lib/python3*/site-packages")) if found else ():
            for each in found:
                point(packages / each.name, os.path.join("/", each.relative_to(self.root)))
        if not found:
            try:
                self._pip(version, "install", "--only-binary", _PINS, *source.extras["pi"])
            except InstallFault:
                return


def knows_shared(version: Version) -> bool:
    """Whether the driver of the shared log is in its environment."""
    return any(version.folder.glob("lib/python3*/site-packages/psycopg/__init__.py"))


def is_whole(machine: Machine, version: Version) -> bool:
    """Whether the version still starts: a system that got another Python has left its environment behind."""
    whole = all(content(version.folder / "system" / name) is not None for name in FIXED)
    return whole and machine.run(str(version.program), "--version", limit_s=_QUICK_S).well
