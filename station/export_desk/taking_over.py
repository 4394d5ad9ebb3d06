"""Where the lines of a log come from: a file, or a folder or zip that holds it."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from station.errors import StationError
from station.export_desk.making import LOG
from station.store.log_reading import LONGEST, BadLog
from station.texts import t


@contextmanager
def lines_of(file: Path) -> Iterator[Iterator[bytes]]:
    """The lines of the log, none kept in memory but the one at hand. Raises BadLog."""
    try:
        if file.is_dir():
            file = file / LOG
        if zipfile.is_zipfile(file):
            with zipfile.ZipFile(file) as box:
                if LOG not in box.namelist():
                    raise _none(file)
                with box.open(LOG) as packed:
                    yield _lines(packed)
            return
        if not file.is_file():
            raise _none(file)
        with file.open("rb") as stream:
            yield _lines(stream)
    except StationError:
        raise
    except (zipfile.BadZipFile, zlib.error, OSError) as why:
        raise BadLog(t("{file} cannot be read ({why}).", file=file, why=why)) from why


def _none(file: Path) -> BadLog:
    words = t("{file} holds no log.jsonl.", file=file)
    return BadLog(words, t("Nothing was changed. Export everything, not a part of it: then the log itself goes along."))


def _lines(stream: IO[bytes]) -> Iterator[bytes]:
    # One more than the longest: whoever reads the line sees that it is too long.
    while line := stream.readline(LONGEST + 1):
        yield line
