"""The source that is installed: a checkout or an unpacked release, by a digest of what counts in it."""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from station.installing.faults import InstallFault
from station.texts import t

_COUNTS = ("station", "web", "systemd")
_NOT = {"__pycache__", ".mypy_cache", ".ruff_cache"}


@dataclass(frozen=True, slots=True)
class Source:
    """The folder, the version that it says it is, and the SHA-256 of what counts in it (hexadecimal)."""

    folder: Path
    version: str
    digest: str
    extras: dict[str, tuple[str, ...]]
    """Requirements of parts that not everybody needs, by name."""

    def file(self, name: str) -> str:
        """A file of the folder systemd/. Raises InstallFault."""
        try:
            return (self.folder / "systemd" / name).read_text("utf-8")
        except OSError as why:
            raise _unreadable(self.folder, why) from why


def source_in(folder: Path) -> Source:
    """What lies in the folder. Raises InstallFault when that is no source of the station."""
    try:
        project = _project(folder)
        return Source(folder, _version(folder), _digest(folder), _extras(project))
    except (OSError, ValueError, KeyError) as why:
        raise _unreadable(folder, why) from why


def _unreadable(folder: Path, why: Exception) -> InstallFault:
    return InstallFault(
        t("{folder} is no whole source of the station ({why}).", folder=folder, why=why),
        t("Unpack the release again, or check it out again, and start the command from there."),
    )


def _project(folder: Path) -> dict[str, Any]:
    with (folder / "pyproject.toml").open("rb") as file:
        project: dict[str, Any] = tomllib.load(file)["project"]
    return project


def _extras(project: dict[str, Any]) -> dict[str, tuple[str, ...]]:
    return {name: tuple(all_of) for name, all_of in project["optional-dependencies"].items()}


def _version(folder: Path) -> str:
    found = re.search(r'^__version__ = "([0-9A-Za-z.+]+)"$', (folder / "station/__init__.py").read_text(), re.MULTILINE)
    if found is None:
        raise ValueError("no version")
    return found[1]


def _digest(folder: Path) -> str:
    """Over names and bytes, so that two sources of one version number are told apart."""
    whole = hashlib.sha256((folder / "pyproject.toml").read_bytes())
    for file in _files(folder):
        inside = file.read_bytes()
        whole.update(f"{file.relative_to(folder)}\0{len(inside)}\0".encode())
        whole.update(inside)
    return whole.hexdigest()


def _files(folder: Path) -> Iterator[Path]:
    for part in _COUNTS:
        if not (folder / part).is_dir():
            raise ValueError(f"no folder {part}")
        for file in sorted((folder / part).rglob("*")):
            if file.is_file() and not _NOT.intersection(file.parts):
                yield file
