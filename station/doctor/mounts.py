"""On which mounted disk a folder lies, by the kernel's list (proc(5), mountinfo)."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Mount:
    """A place where a disk is mounted, and whether it can only be read."""

    place: Path
    read_only: bool


def mount_of(mountinfo: str, folder: Path) -> Mount | None:
    """The mount that `folder` lies on; None where the list does not tell."""
    found: Mount | None = None
    for line in mountinfo.splitlines():
        words = line.split()
        if "-" not in words or len(words) < 10:
            continue
        place = Path(_plain(words[4]))
        # Of several mounts at one place the last in the list lies on top.
        if folder.is_relative_to(place) and (found is None or len(place.parts) >= len(found.place.parts)):
            options = {*words[5].split(","), *words[-1].split(",")}
            found = Mount(place, "ro" in options)
    return found


def _plain(text: str) -> str:
    """A path as the list writes it, with blanks and such as octal numbers."""
    return re.sub(r"\\([0-7]{3})", lambda octal: chr(int(octal[1], 8)), text)
