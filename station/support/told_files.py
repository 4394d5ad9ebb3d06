"""The files of the state folder with their sizes. Names that a person may have chosen are not told."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from station.texts import t

MOST = 500
_OWN = re.compile(
    r"record[-a-z0-9.]*|session\.key|station\.id|scale\.json|scale-checks\.jsonl|starts|devices\.json|"
    r"left-the-card\.json|push[-a-z]*\.json|sheets|backups|tarebell-[0-9-]*\.zip|lots\.toml|[a-z]{1,12}\.lock"
)


def told_files(folder: Path) -> list[str]:
    """One line for each file: its size in bytes and its place, at most `MOST`. Nothing is raised."""
    lines: list[str] = []
    for place, size in _all(folder):
        if len(lines) == MOST:
            return [*lines, t("… and more")]
        lines.append(f"{size:12d}  {place}")
    return lines


def _all(folder: Path) -> Iterator[tuple[str, int]]:
    for where, folders, files in os.walk(folder):
        folders.sort()
        inner = [_told(part) for part in Path(where).relative_to(folder).parts]
        for name in sorted(files):
            try:
                size = (Path(where) / name).lstat().st_size
            except OSError:
                continue
            yield "/".join((*inner, _told(name))), size


def _told(name: str) -> str:
    if _OWN.fullmatch(name):
        return name
    ending = re.search(r"\.(toml|json|jsonl|zip|db|db-wal|db-shm|key|lock|before|ics)$", name)
    return f"another{ending[0]}" if ending else "another"
