"""Keeping small files beside the record: whole or as before after a power cut, on the disk when the call returns."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from station.errors import LedgerFault
from station.texts import t


def replace_whole(file: Path, content: str | bytes, *, private: bool = False) -> None:
    """Put `content` in the place of the file. Raises LedgerFault; the file then is as it was.

    A `private` file can be read and written by the station's own user alone, from its first byte on.
    """
    with _kept(file):
        beside = file.with_name(f".{file.name}.new")
        if private:
            # What a power cut left of an earlier attempt keeps the rights that it was made with.
            beside.unlink(missing_ok=True)
            os.close(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        _write(beside, "w", content)
        beside.replace(file)


def append_line(file: Path, line: str) -> None:
    """Add a line to the file. What a power cut left of an earlier line stays a line of its own. Raises LedgerFault."""
    with _kept(file):
        torn = file.exists() and file.stat().st_size > 0 and not file.read_bytes().endswith(b"\n")
        _write(file, "a", "\n" * torn + line + "\n")


def make_folder(folder: Path) -> list[Path]:
    """Make a folder and those above it, where they are missing; their names are on the disk. Raises OSError.

    Gives those that were made, the innermost first.
    """
    missing = [each for each in (folder, *folder.parents) if not each.is_dir()]
    folder.mkdir(parents=True, exist_ok=True)
    for made in reversed(missing):
        sync(made.parent)  # a folder that is itself gone after a power cut has lost all that was synced in it
    return missing


def sync(place: Path) -> None:
    """Put a file, or the names in a folder, on the disk. Raises OSError."""
    descriptor = os.open(place, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def _kept(file: Path) -> Iterator[None]:
    try:
        make_folder(file.parent)
        yield
        sync(file.parent)
    except OSError as failed:
        raise LedgerFault(t("{file} cannot be written: {strerror}.", file=file, strerror=failed.strerror)) from failed


def _write(file: Path, mode: str, content: str | bytes) -> None:
    with file.open(f"{mode}b") as out:
        out.write(content.encode() if isinstance(content, str) else content)
        out.flush()
        os.fsync(out.fileno())
