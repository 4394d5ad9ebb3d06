"""The record, its backups and where their copies went. Everything is only read."""

from __future__ import annotations

from collections.abc import Iterator

from station import __version__
from station.doctor.checks.from_part import finding_of
from station.doctor.finding import Finding, failed, look, passed
from station.doctor.patient import Patient
from station.doctor.rights import must_read
from station.errors import LedgerFault
from station.overview.record_parts import backups_part
from station.phone.record_view import RecordView
from station.record_desk import line_of
from station.store.backup.contents import RECORD
from station.store.backup.left import last_left
from station.store.backup.packing import SUFFIX
from station.store.backup.shelf import shelf_of
from station.store.glance import rows_at_a_glance
from station.store.verify import verify, verify_photos
from station.texts import t, tn


def record(patient: Patient) -> Iterator[Finding]:
    """The record: its end at a glance, or every row, trace and photo where that is wanted."""
    place = patient.known.state_dir / RECORD
    if not place.exists():
        told = t("There is no record in {folder} yet: the station makes one at its first start.", folder=place.parent)
        yield look(told, names=(str(place.parent),))
        return
    must_read(place)
    restore = t("It is kept as it is. Restore it on the page Record, or stop the station and run `tarebell restore`.")
    names = (str(place), str(place.parent))
    try:
        if not patient.thorough:
            rows = rows_at_a_glance(place)
            yield passed(
                tn(
                    "It opens, and the end of its {n} row is whole. `--full` reads all of it.",
                    "It opens, and the end of its {n} rows is whole. `--full` reads all of it.",
                    rows,
                )
            )
            return
        verdict = verify(place)
        if not verdict.ok:
            yield failed(verdict.words, restore, names=names)
            return
        photos = verify_photos(place)
    except LedgerFault as fault:
        yield failed(str(fault), t(fault.hint), names=names)
        return
    told = " ".join(filter(None, (verdict.words, verdict.traces.words(), photos.words())))
    if verdict.traces.damaged or photos.damaged:
        yield look(told, t("Casts and clocks are not touched by it. A backup may still have what is damaged."))
        return
    yield passed(told)


def backups(patient: Patient) -> Iterator[Finding]:
    """How old the newest backup is, and when a copy last left the card."""
    shelf = shelf_of(patient.known, __version__)
    must_read(shelf.folder)
    there = shelf.all()
    left = last_left(shelf.folder)
    lines = [line_of(backup) for backup in there]
    view = RecordView("", "", 0, "", lines, "", "", None, (), None if left is None else left.at)
    yield finding_of(backups_part(view, patient.now))
    gone = [str(folder) for folder in patient.known.backup.copies if not folder.is_dir()]
    if gone:
        told = t("No copy can go to {folders} now: no such folder is there.", folders=", ".join(gone))
        yield look(told, t("Plug that disk in, or correct copies under [backup] in the settings."), names=gone)
    good = {backup.file.name for backup in there}
    spoilt = [file.name for file in sorted(shelf.folder.glob(f"[!.]*{SUFFIX}")) if file.name not in good]
    if spoilt:
        told = tn(
            "{n} file is no backup: {names}.",
            "{n} files are no backups: {names}.",
            len(spoilt),
            names=", ".join(spoilt),
        )
        yield look(told, t("Make a backup now (`tarebell backup`) and move it away."), names=spoilt)
