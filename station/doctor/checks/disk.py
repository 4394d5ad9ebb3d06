"""The disk under the record: whether it takes what is written, and how much space is left."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from station.doctor.finding import Finding, failed, look, passed
from station.doctor.mounts import Mount, mount_of
from station.doctor.patient import Patient
from station.doctor.probe import text_of
from station.doctor.rights import SEARCH, WRITE, may
from station.keeping import sync
from station.phone.record_view import LITTLE_SPACE
from station.texts import t

MIB = 1024 * 1024
_TRIED = 64 * 1024


def disk(patient: Patient) -> Iterator[Finding]:
    """The folder of the record: there, writable by the station, on a disk with space that takes what it is given."""
    folder = patient.known.state_dir
    if not folder.is_dir():
        yield look(
            t("The folder {folder} is not there yet: the station makes it when it starts, if it may.", folder=folder),
            names=(str(folder),),
        )
        return
    mount = mount_of(text_of(patient.place("/proc/self/mountinfo")), folder.resolve())
    if mount is not None and mount.read_only:
        yield _read_only(mount, folder)
        return
    yield _space(folder)
    if not may(patient.owner, folder, WRITE | SEARCH):
        told = t("The station runs as {user}, who may not write into {folder}.", user=patient.owner.name, folder=folder)
        cure = t("Give it to that user: sudo chown -R {user} {folder}", user=patient.owner.name, folder=folder)
        yield failed(told, cure, names=(str(folder),))
        return
    yield _written(folder)


def _space(folder: Path) -> Finding:
    free = shutil.disk_usage(folder).free
    told = t("{free} MiB are free.", free=free // MIB)
    if free < LITTLE_SPACE:
        return look(told, t("Free some space before the card is full."))
    return passed(told)


def _written(folder: Path) -> Finding:
    """Whether the disk takes a small file and says that it has it."""
    trial = folder / f".doctor-{os.getpid()}"
    try:
        try:
            with trial.open("xb") as out:
                out.write(os.urandom(_TRIED))
            sync(trial)
        finally:
            trial.unlink(missing_ok=True)
    except PermissionError:
        return look(
            t("Whether the disk takes what is written cannot be tried by this user."),
            t("Ask again with sudo."),
        )
    except OSError as why:
        return _refused(why, folder)
    return passed(t("The disk takes what is written, and says when it has it."))


def _refused(why: OSError, folder: Path) -> Finding:
    names = (str(folder),)
    if why.errno in (errno.ENOSPC, errno.EDQUOT):
        told = t("The disk under {folder} is full.", folder=folder)
        return failed(told, t("Free some space; the station writes what waits by itself."), names=names)
    if why.errno == errno.EROFS:
        return _read_only(Mount(folder, True), folder)
    told = t("The disk under {folder} does not take what is written: {why}.", folder=folder, why=why.strerror)
    return failed(told, t("Make a backup onto a stick and replace the card; it may be worn out."), names=names)


def _read_only(mount: Mount, folder: Path) -> Finding:
    told = t(
        "{folder} lies on a disk that can only be read now (mounted at {place}).", folder=folder, place=mount.place
    )
    cure = t(
        "A card turns so by itself when it fails. Start the board again; when it comes back, make a backup onto a "
        "stick and replace the card."
    )
    return failed(told, cure, names=(str(folder), str(mount.place)))
