"""Packing a backup into one zip file, and opening one again: nothing counts as a backup that was not read back."""

from __future__ import annotations

import hashlib
import os
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from station.core.moment import Moment
from station.errors import LedgerFault
from station.keeping import make_folder, sync
from station.store import journal
from station.store.backup.contents import RECORD, Belongings
from station.store.backup.label import Label, read_label
from station.store.copying import copy_record, size_of
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.scratch import scratch
from station.store.verify import verify
from station.store.walker import Walk
from station.texts import N_, t

LABEL: Final = "label.json"
SUFFIX: Final = ".zip"
_PIECE: Final = 1 << 20
_MOST_FILES: Final = 2000
_MOST_BYTES: Final = 4 << 30


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup file and its label."""

    file: Path
    label: Label


def pack(belongings: Belongings, folder: Path, at: Moment, version: str, why: str, *, walk: Walk = verify) -> Backup:
    """Make a backup in `folder`, read it back, then give it its name. Raises LedgerFault; then none is left."""
    beside = folder / ".being-made.zip"
    with told_as_faults(folder):
        make_folder(folder)
        try:
            with scratch(size_of(belongings.record)) as room:
                copy = room / RECORD
                copy_record(belongings.record, copy)
                with told_as_faults(belongings.record):  # what is wrong with the copy is so with the record
                    rows, first, digest = _ends(copy)
                _write(beside, copy, belongings, Label(at.wall, at.trusted, rows, first, digest, version, why, {}))
            label = check(beside, walk)
            file = _free_name(folder, at)
            beside.rename(file)
            sync(folder)
        finally:
            beside.unlink(missing_ok=True)
    return Backup(file, label)


def _ends(record: Path) -> tuple[int, str, str]:
    engine = open_reader(record)
    try:
        with engine.begin() as db:
            first, last = journal.rows_after(db, 0, 1), journal.tail(db)
            return (last[0].seq, first[0].digest, last[0].digest) if last else (0, "", "")
    finally:
        engine.dispose()


def _write(file: Path, record: Path, belongings: Belongings, label: Label) -> None:
    digests: dict[str, str] = {}
    with file.open("wb") as out:
        # A board without a battery clock may be in 1970, before the first date that a zip file can hold.
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=6, strict_timestamps=False) as box:
            box.write(record, RECORD)
            with record.open("rb") as source:
                digests[RECORD] = hashlib.file_digest(source, "sha256").hexdigest()
            for name, content in belongings.small_files().items():
                box.writestr(name, content)
                digests[name] = hashlib.sha256(content).hexdigest()
            box.writestr(LABEL, replace(label, files=digests).text())
        out.flush()
        os.fsync(out.fileno())


def _free_name(folder: Path, at: Moment) -> Path:
    """A name by the time, for people; what is newest is told by the labels."""
    stem = f"tarebell-{at.wall:%Y%m%d-%H%M%S}"
    names = (folder / f"{stem}{more}{SUFFIX}" for more in ("", *(f"-{count}" for count in range(2, 1000))))
    return next(name for name in names if not name.exists())


def label_of(file: Path) -> Label:
    """What a backup says of itself, without checking it. Raises LedgerFault."""
    with _box(file) as box:
        return read_label(box.read(LABEL))


def check(file: Path, walk: Walk = verify) -> Label:
    """Open a backup, compare every file with its digest and walk the chain of its journal. Raises LedgerFault."""
    with unpacked(file, walk) as (_, label):
        return label


@contextmanager
def unpacked(file: Path, walk: Walk = verify) -> Iterator[tuple[Path, Label]]:
    """The checked contents of a backup in a folder that is gone at the end. Raises LedgerFault."""
    with _box(file) as box:
        label = read_label(box.read(LABEL))
        inside = {one.filename: one for one in box.infolist() if one.filename != LABEL}
        if set(inside) != set(label.files) or RECORD not in inside:
            raise _bad(t("{file} is no good backup: what is in it is not what its label says.", file=file.name))
        if len(inside) > _MOST_FILES or sum(one.file_size for one in inside.values()) > _MOST_BYTES:
            raise _bad(t("{file} is no good backup: it is far larger than any record.", file=file.name))
        with told_as_faults(file), scratch(sum(one.file_size for one in inside.values())) as room:
            for name in inside:
                _take_out(box, name, room, file, label.files[name])
            _chain_holds(room / RECORD, file, label, walk)
            yield room, label


def _take_out(box: zipfile.ZipFile, name: str, room: Path, file: Path, digest: str) -> None:
    place = room / name
    if not place.resolve().is_relative_to(room.resolve()):
        text = N_("{file} is no good backup: it holds a file with the name {name}.")
        raise _bad(t(text, file=file.name, name=repr(name)))
    place.parent.mkdir(parents=True, exist_ok=True)
    seal = hashlib.sha256()
    with box.open(name) as source, place.open("wb") as target:
        while piece := source.read(_PIECE):
            seal.update(piece)
            target.write(piece)
    if seal.hexdigest() != digest:
        raise _bad(t("{file} is no good backup: {name} in it was changed.", file=file.name, name=name))


def _chain_holds(record: Path, file: Path, label: Label, walk: Walk) -> None:
    # The online backup copies a bad page as it is: the file around the journal must be looked at too.
    verdict = walk(record)
    if not verdict.ok:
        raise _bad(t("{file} is no good backup: {why}", file=file.name, why=verdict.words))
    if verdict.rows != label.rows:
        text = N_("{file} is no good backup: its journal has {rows} rows, not {meant}.")
        raise _bad(t(text, file=file.name, rows=verdict.rows, meant=label.rows))
    if _ends(record)[1:] != (label.first, label.digest):
        text = N_("{file} is no good backup: its journal begins or ends with another row than its label says.")
        raise _bad(t(text, file=file.name))


@contextmanager
def _box(file: Path) -> Iterator[zipfile.ZipFile]:
    try:
        with told_as_faults(file), zipfile.ZipFile(file) as box:
            yield box
    except (zipfile.BadZipFile, zlib.error, KeyError, EOFError, NotImplementedError, RuntimeError) as why:
        raise _bad(t("{file} is no good backup: it is not a whole zip file of this station.", file=file.name)) from why


def _bad(words: str) -> LedgerFault:
    return LedgerFault(words, t("Take another one."))
