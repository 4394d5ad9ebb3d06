"""An export or a year in one zip, read back and compared with its own digests before it takes its name."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from station.errors import LedgerFault
from station.export_desk.making import CONTENTS, Progress, Source, export_folder, nothing
from station.keeping import sync
from station.store.faults import told_as_faults
from station.texts import t


def export_zip(source: Source, file: Path, progress: Progress = nothing) -> int:
    """Put an export into a zip; how many casts. Raises LedgerFault; then there is no such file."""
    with into_file(file) as out:
        return export_into(source, out, file.parent, progress)


def export_into(source: Source, out: IO[bytes], room: Path, progress: Progress = nothing) -> int:
    """Write the zip into an open file. The tables lie in `room` meanwhile. Raises LedgerFault."""
    with told_as_faults(room), tempfile.TemporaryDirectory(prefix=".export-", dir=room) as made:
        folder = Path(made) / "export"
        casts = export_folder(source, folder, progress, boxed=True)
        pack(folder, out)
    return casts


@contextmanager
def into_file(file: Path) -> Iterator[IO[bytes]]:
    """A new file that takes its name only when it is whole and on the disk. Raises LedgerFault.

    Only an earlier PDF or zip is replaced: a mistyped name must not cost a record or a sheet.
    """
    with told_as_faults(file):
        if file.exists() and not _replaceable(file):
            raise LedgerFault(
                t("{file} is there already, and is neither a PDF nor a zip. It was left alone.", file=file),
                t("Name another file."),
            )
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(prefix=f".{file.name}.", dir=file.parent, delete=False) as out:
            try:
                yield out
                out.flush()
                os.fsync(out.fileno())
                os.chmod(out.name, 0o644)
                Path(out.name).replace(file)
                sync(file.parent)
            except BaseException:
                Path(out.name).unlink(missing_ok=True)
                raise


def _replaceable(file: Path) -> bool:
    with file.open("rb") as there:
        begins = there.read(4)
    return begins in (b"", b"%PDF", b"PK\x03\x04")


def pack(folder: Path, out: IO[bytes]) -> None:
    """Everything below the folder as a zip with the digest of each file, read back from `out`. Raises LedgerFault."""
    files = sorted(file for file in folder.rglob("*") if file.is_file() and file != folder / CONTENTS)
    told = json.loads((folder / CONTENTS).read_text(encoding="utf-8"))
    digests: dict[str, str] = {}
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=6, strict_timestamps=False) as box:
        for file in files:
            name = file.relative_to(folder).as_posix()
            digests[name] = _digest(file)
            # A JPEG is as small as it can be already.
            box.write(file, name, zipfile.ZIP_STORED if file.suffix == ".jpg" else None)
            file.unlink()  # no more room than needed
        box.writestr(CONTENTS, json.dumps({**told, "sha256": digests}, indent=1) + "\n")
    shutil.rmtree(folder)
    out.flush()
    check(out, digests)


def check(out: IO[bytes], digests: Mapping[str, str] | None = None) -> Mapping[str, str]:
    """Read a zip in full and hold each file against its digest, by its own list or this one. Raises LedgerFault."""
    try:
        out.seek(0)
        with zipfile.ZipFile(out) as box:
            listed = dict(json.loads(box.read(CONTENTS))["sha256"])
            there = set(box.namelist()) - {CONTENTS}
            wanted = listed if digests is None else dict(digests)
            if listed != wanted or there != set(wanted):
                raise LedgerFault(t("The zip does not hold what it should."), t("Make it again."))
            for name, digest in wanted.items():
                with box.open(name) as packed:
                    if hashlib.file_digest(packed, "sha256").hexdigest() != digest:  # type: ignore[arg-type]
                        raise LedgerFault(t("{name} in the zip was changed.", name=name), t("Make it again."))
    except (zipfile.BadZipFile, zlib.error, KeyError, ValueError, EOFError) as why:
        raise LedgerFault(t("The zip cannot be read back ({why}).", why=why), t("Make it again.")) from why
    out.seek(0, os.SEEK_END)
    return wanted


def _digest(file: Path) -> str:
    with file.open("rb") as source:
        return hashlib.file_digest(source, "sha256").hexdigest()
