"""Changes to files and links: whole or as before, also after a power cut."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from station.errors import LedgerFault
from station.installing.faults import InstallFault
from station.keeping import make_folder, replace_whole, sync
from station.texts import t


def content(file: Path) -> str | None:
    """What the file says; None when it is not there or cannot be read."""
    try:
        return file.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return None


def put(file: Path, text: str) -> None:
    """Put the text into the file. Raises InstallFault; then the file is as it was."""
    try:
        replace_whole(file, text)
        file.chmod(0o644)
    except (LedgerFault, OSError) as why:
        raise InstallFault(str(why)) from why


def point(link: Path, target: str) -> None:
    """Make the link point at `target`, in one step. Raises InstallFault; then the link is as it was."""
    beside = link.with_name(f".{link.name}.new")
    try:
        make_folder(link.parent)
        beside.unlink(missing_ok=True)
        os.symlink(target, beside)
        beside.replace(link)
        sync(link.parent)
    except OSError as why:
        raise InstallFault(t("{file} cannot be made: {why}.", file=link, why=why.strerror)) from why


def points_at(link: Path, target: str) -> bool:
    """Whether the link points there."""
    return link.is_symlink() and os.readlink(link) == target


def taken_away(place: Path) -> None:
    """Take away a file, a link or a whole folder, if it is there. Raises InstallFault."""
    try:
        if place.is_dir() and not place.is_symlink():
            shutil.rmtree(place)
        else:
            place.unlink(missing_ok=True)
    except OSError as why:
        raise InstallFault(t("{file} cannot be removed: {why}.", file=place, why=why.strerror)) from why
