"""Where a log's lines and photos come from: a file, or a folder or zip that holds it."""

from __future__ import annotations

import re
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Final

from station.errors import StationError
from station.export_desk.making import LOG
from station.keeping import make_folder
from station.photos.limits import ANSWER_BYTES
from station.store.faults import told_as_faults
from station.store.log_reading import LONGEST, BadLog
from station.store.photos import FOLDER
from station.texts import t

_PHOTO: Final = re.compile(rf"{FOLDER}/[0-9a-f]{{16}}(-small)?\.jpg")
"""As the station names them (`store.photos.keep`)."""


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
            raise _none(file.parent if file.name == LOG else file)
        with file.open("rb") as stream:
            yield _lines(stream)
    except StationError:
        raise
    except (zipfile.BadZipFile, zlib.error, OSError) as why:
        raise BadLog(t("{file} cannot be read ({why}).", file=file, why=why)) from why


@contextmanager
def photos_beside(file: Path, room: Path) -> Iterator[Path]:
    """A folder that holds the folder of photos of this export, if any came with it; of a zip unpacked in `room`.

    Names and sizes are held within what a photo can have; whether one is whole, whoever takes it sees by its digest.
    Raises LedgerFault.
    """
    if file.is_dir() or not zipfile.is_zipfile(file):
        yield file if file.is_dir() else file.parent
        return
    with told_as_faults(room), tempfile.TemporaryDirectory(prefix=".import-", dir=room) as made:
        target = Path(made)
        make_folder(target / FOLDER)
        with zipfile.ZipFile(file) as box:
            for one in box.infolist():
                if _PHOTO.fullmatch(one.filename) and one.file_size <= ANSWER_BYTES:
                    with suppress(zipfile.BadZipFile, zlib.error, EOFError):  # then that photo is none
                        (target / one.filename).write_bytes(box.read(one))
        yield target


def _none(file: Path) -> BadLog:
    words = t("{file} holds no log.jsonl.", file=file)
    return BadLog(words, t("Nothing was changed. Export everything, not a part of it: then the log itself goes along."))


def _lines(stream: IO[bytes]) -> Iterator[bytes]:
    # One more than the longest: whoever reads the line sees that it is too long.
    while line := stream.readline(LONGEST + 1):
        yield line
