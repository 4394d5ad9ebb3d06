"""Taking a log over from another station: its file becomes the record of a station that has cast nothing yet.

Each row is proved by its seal before it counts, and the file must go on to its end: all of it is taken, or nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, func, insert, select

from station.core.events import cast_number
from station.core.moment import Moment
from station.errors import LedgerFault, Refused
from station.keeping import make_folder, sync
from station.store import journal
from station.store.backup.contents import RECORD
from station.store.backup.photos import bring_back
from station.store.chain import GENESIS, Row, entry_of, sealed_by
from station.store.engines import open_reader, open_writer
from station.store.faults import told_as_faults
from station.store.ledger import LOCK_FILE
from station.store.lock import StationLock
from station.store.log_reading import BadLog, Boot, End, Line, Trace, read_lines
from station.store.projection import project
from station.store.rescue.exchange import clear_new, into_one_file, put_in_place
from station.store.rescue.restore import Restored, give_to_owner, mark_done
from station.store.schema import casts, evidence
from station.store.schema import journal as journal_table
from station.store.trace_codec import pack
from station.store.traces import keep_proved
from station.store.verify import verified
from station.store.versions import bring_up_to_date
from station.store.witness import WITNESS_FILE, Witness
from station.texts import t

AT_ONCE: Final = 2000
"""So many lines go into one transaction."""


@dataclass(frozen=True, slots=True)
class TakenOver:
    """`rows`, `casts` and `traces` are in the record now; earlier files, if any were, lie in `set_aside`."""

    rows: int
    casts: int
    traces: int
    set_aside: Path | None


def take_over(lines: Iterable[bytes], state_dir: Path, at: Moment) -> TakenOver:
    """Make the log in `lines` the record in a state folder.

    Raises Refused where that holds casts already or the file is no good, LedgerFault where the disk does not do its
    part or a station runs there. Then the record is as it was, and a folder that was not there is not there.
    """
    place = state_dir / LOCK_FILE
    with told_as_faults(state_dir):
        made, first = make_folder(state_dir), not place.exists()
        lock = StationLock(place)
    try:
        _holds_no_cast(state_dir / RECORD)
        with told_as_faults(state_dir):
            new = clear_new(state_dir)
            try:
                progress = _made(new, lines)
            except BaseException:
                clear_new(state_dir)
                raise
            aside = put_in_place(new, state_dir, at)
        done = TakenOver(progress.seq, progress.casts, progress.traces, aside)
        # Else a later restoring would look for rows in what was set aside.
        mark_done(state_dir, Restored(done.rows, 0, aside, ""), at)
        with told_as_faults(state_dir):
            Witness(state_dir / WITNESS_FILE).forget()
            give_to_owner(state_dir)
        return done
    except BaseException:
        if first:
            _leave_nothing(place, made)
        raise
    finally:
        lock.release()


def take_photos(state_dir: Path, place: Path) -> int:
    """Bring along those photos of the record just taken over that are whole in the folder `place`; how many.

    What was unpacked below the state folder is nobody's own and needs no copy. Raises LedgerFault.
    """
    apart = not place.is_relative_to(state_dir)
    with told_as_faults(state_dir):
        brought = bring_back(state_dir / RECORD, state_dir, (place,), apart=apart)
        give_to_owner(state_dir)
    return brought


def _leave_nothing(lock_file: Path, made: list[Path]) -> None:
    """Take away the lock's file and the folders made for it, while the lock is held; whatever else is there stays."""
    with suppress(OSError):
        lock_file.unlink()
        for folder in made:
            folder.rmdir()


def _holds_no_cast(record: Path) -> None:
    if not record.is_file() or not record.stat().st_size:
        return
    engine = open_reader(record)
    try:
        with told_as_faults(record), engine.begin() as db:
            begun = select(func.count()).select_from(journal_table).where(journal_table.c.cast_number.is_not(None))
            held = db.execute(begun).scalar_one()
    finally:
        engine.dispose()
    if held:
        raise Refused(
            t("The record in {folder} holds casts already, and two logs cannot be made one.", folder=record.parent),
            t("Nothing was changed. Name an empty folder with `--state`."),
        )


@dataclass(slots=True)
class _Progress:
    """How far the taking over has come, and the last row of each boot."""

    seq: int = 0
    digest: str = GENESIS
    casts: int = 0
    traces: int = 0
    ends: dict[str, Row] = field(default_factory=dict)


def _made(new: Path, lines: Iterable[bytes]) -> _Progress:
    writer, reader = open_writer(new), open_reader(new)
    try:
        bring_up_to_date(new, writer, reader)
        progress = _Progress()
        block: list[Line] = []
        for line in read_lines(lines):
            block.append(line)
            if len(block) == AT_ONCE:
                _put(writer, block, progress)
                block = []
        _put(writer, block, progress)
        with reader.begin() as db:
            progress.casts = db.execute(select(func.count()).select_from(casts)).scalar_one()
        verdict = verified(reader)
        if not verdict.ok or verdict.rows != progress.seq:
            raise LedgerFault(
                t("What was taken over is not whole: {why}", why=verdict.words), t("Nothing was changed.")
            )
        into_one_file(writer)
    finally:
        writer.dispose()
        reader.dispose()
    sync(new)
    return progress


def _put(writer: Engine, block: list[Line], progress: _Progress) -> None:
    with writer.begin() as db:
        rows = [line for line in block if isinstance(line, Row)]
        for row in rows:
            _prove(row, progress)
        journal.put(db, rows)
        for row in rows:
            project(db, row)
        for line in block:
            match line:
                case Row():
                    pass  # above: all at once is far quicker
                case Boot():
                    _put_boot(db, line, progress)
                case Trace():
                    _put_trace(db, line, progress)
                case End(entries, traces, digest):
                    if (entries, traces, digest) != (progress.seq, progress.traces, progress.digest):
                        raise BadLog(t("The file does not hold what its last line says: lines are missing or added."))


def _prove(row: Row, progress: _Progress) -> None:
    if row.seq != progress.seq + 1:
        raise BadLog(t("Row {row} is missing: row {next} comes next.", row=progress.seq + 1, next=row.seq))
    if row.previous != progress.digest or sealed_by(row) != row.digest:
        raise BadLog(t("Row {row} is not as it was written.", row=row.seq))
    if cast_number(entry_of(row).event) != row.cast_number:
        raise BadLog(t("Row {row} tells of another cast than it says.", row=row.seq))
    progress.seq, progress.digest = row.seq, row.digest
    progress.ends[row.boot_id] = row


def _put_boot(db: Connection, boot: Boot, progress: _Progress) -> None:
    end = progress.ends.get(boot.columns["boot_id"])
    noted = {} if end is None else {"journal_seq": end.seq, "journal_digest": end.digest}
    db.execute(insert(evidence).values({**boot.columns, **noted}))


def _put_trace(db: Connection, trace: Trace, progress: _Progress) -> None:
    place, points = (trace.number, trace.step), pack(trace.points)
    if not keep_proved(db, place, points):
        words = t(
            "The weighing trace of cast {number}, step {step}, is not as it was weighed.",
            number=trace.number,
            step=trace.step,
        )
        raise BadLog(words)
    progress.traces += 1
