"""Weighing traces are vouched for by the journal: what was changed, swapped or lost is named by its cast."""

from __future__ import annotations

import hashlib
import json
import random
import sqlite3
import zlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.effects import KeepTrace
from station.errors import LedgerFault
from station.store import journal
from station.store.archive import Archive
from station.store.chain import GENESIS, Row, row_of, sealed_by
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.trace_codec import pack, unpack
from station.store.verify import Verdict, verify
from tests.play import GRIP, RUBBER, Play
from tests.store.benches import PLAYS, foam_combined_on_the_scale, silicone_with_a_late_drip
from tests.store.disk import opened
from tests.store.stories import Story

Place = tuple[int, int]
WHOLE = "The record is not: what was weighed stands in the journal, and that is what counts."


def kept(folder: Path, played: Play) -> Path:
    with SqlLedger(folder) as ledger:
        ledger.write(played.entries, played.traces)
    return folder / "record.db"


def two_casts() -> Play:
    """A cast in two cups, and after it one in one cup."""
    play = foam_combined_on_the_scale()
    play.lift()
    play.begin(RUBBER, "200", GRIP)
    play.put("24.3")
    play.pour(play.step.target)  # type: ignore[union-attr]
    return play


def blobs(record: Path) -> dict[Place, bytes]:
    with opened(record) as db:
        return {(n, step): points for n, step, points in db.execute("SELECT cast_number, step, points FROM traces")}


def put(db: sqlite3.Connection, place: Place, points: object) -> None:
    db.execute("UPDATE traces SET points = ? WHERE cast_number = ? AND step = ?", (points, *place))


@pytest.mark.parametrize("play", PLAYS.values(), ids=PLAYS)
def test_the_row_of_a_weighing_holds_the_digest_of_its_trace(tmp_path: Path, play: Callable[[], Play]) -> None:
    played = play()
    record = kept(tmp_path, played)
    latest: dict[Place, str] = {}
    for entry in played.entries:
        if isinstance(entry.event, ev.Accepted | ev.Combined):
            latest[entry.event.number, entry.event.step] = entry.event.trace
    there = blobs(record)
    assert latest.keys() == there.keys()
    for place, blob in there.items():
        text = json.dumps([[round(s * 1000), mg] for s, mg in unpack(blob)], separators=(",", ":"))
        assert hashlib.sha256(text.encode()).hexdigest() == latest[place]
    verdict = verify(record)
    assert (verdict.ok, verdict.traces.words()) == (True, "")
    assert (verdict.traces.whole, verdict.traces.undigested) == (len(there), 0)


def test_a_step_that_was_weighed_again_is_vouched_for_by_its_latest_row(tmp_path: Path) -> None:
    played = silicone_with_a_late_drip()
    digests = [event.trace for event in played.events(ev.Accepted)]  # type: ignore[union-attr]
    assert len(set(digests)) == 2
    record = kept(tmp_path, played)
    assert verify(record).traces.whole == 1
    with opened(record) as db:
        put(db, (1, 1), pack(played.traces[0].points))
    assert verify(record).traces.damaged == (1,)


def test_a_changed_byte_is_found_or_changes_no_point(tmp_path: Path) -> None:
    record = kept(tmp_path, two_casts())
    there, chance = blobs(record), random.Random(7)
    found = 0
    for place, blob in 40 * list(there.items()):
        spoilt = bytearray(blob)
        spoilt[chance.randrange(len(spoilt))] ^= chance.randrange(1, 256)
        with opened(record) as db:
            put(db, place, bytes(spoilt))
            verdict = verify(record)
            put(db, place, blob)
        assert verdict.ok
        if verdict.traces.damaged:
            assert verdict.traces.damaged == (place[0],)
            found += 1
        else:
            assert unpack(bytes(spoilt)) == unpack(blob)
    assert found > 35 * len(there)
    assert verify(record).traces.damaged == ()


def _swapped(db: sqlite3.Connection, there: dict[Place, bytes]) -> None:
    put(db, (1, 1), there[1, 3])
    put(db, (1, 3), there[1, 1])


def _of_another_cast(db: sqlite3.Connection, there: dict[Place, bytes]) -> None:
    put(db, (1, 1), there[2, 1])


def _gone(db: sqlite3.Connection, _there: dict[Place, bytes]) -> None:
    db.execute("DELETE FROM traces WHERE cast_number = 1 AND step = 1")


def _of_another_type(db: sqlite3.Connection, _there: dict[Place, bytes]) -> None:
    put(db, (1, 1), "no bytes")


def _moved(db: sqlite3.Connection, _there: dict[Place, bytes]) -> None:
    db.execute("UPDATE traces SET step = 20 WHERE cast_number = 1 AND step = 1")


def _with_a_number_beyond_all_bounds(db: sqlite3.Connection, _there: dict[Place, bytes]) -> None:
    put(db, (1, 1), zlib.compress(b"\xff" * 2000 + b"\x01\x00"))


SPOILT = [_swapped, _of_another_cast, _gone, _of_another_type, _moved, _with_a_number_beyond_all_bounds]


@pytest.mark.parametrize("spoil", SPOILT)
def test_a_spoilt_trace_is_named_by_its_cast_and_the_record_is_not_called_damaged(
    tmp_path: Path, spoil: Callable[[sqlite3.Connection, dict[Place, bytes]], None]
) -> None:
    record = kept(tmp_path, two_casts())
    with opened(record) as db:
        spoil(db, blobs(record))
    verdict = verify(record)
    assert verdict.ok
    assert verdict.traces.damaged == (1,)
    assert verdict.traces.words().startswith(f"Weighing traces of cast 1 are damaged or gone. {WHOLE}")
    with Archive(record) as archive:
        assert archive.trace(2, 1)
        if spoil not in (_gone, _moved):
            with pytest.raises(LedgerFault, match="trace in the record is damaged; the weighing's result is not"):
                archive.trace(1, 1)


def test_all_casts_with_spoilt_traces_are_named(tmp_path: Path) -> None:
    record = kept(tmp_path, two_casts())
    with opened(record) as db:
        db.execute("UPDATE traces SET points = x'00'")
    words = verify(record).traces.words()
    assert words == f"Weighing traces of casts 1, 2 are damaged or gone. {WHOLE}"


def _rows_as_first_written(entries: Sequence[ev.Entry]) -> list[Row]:
    """Rows as they were before a row held the digest of a trace."""
    rows: list[Row] = []
    for entry in entries:
        row = row_of(entry, len(rows) + 1, rows[-1].digest if rows else GENESIS)
        content = json.loads(row.payload)
        content.pop("trace", None)
        row = replace(row, payload=json.dumps(content, sort_keys=True, separators=(",", ":")))
        rows.append(replace(row, digest=sealed_by(row)))
    return rows


def _old(folder: Path, played: Play) -> Verdict:
    with SqlLedger(folder) as ledger:
        ledger.write([], played.traces)
    writer = open_writer(folder / "record.db")
    with writer.begin() as db:
        journal.put(db, _rows_as_first_written(played.entries))
    writer.dispose()
    return verify(folder / "record.db")


def test_an_older_record_is_whole_and_says_how_many_traces_have_no_digest(tmp_path: Path) -> None:
    played = two_casts()
    verdict = _old(tmp_path, played)
    assert (verdict.ok, verdict.rows) == (True, len(played.entries))
    count = len(blobs(tmp_path / "record.db"))
    assert verdict.traces.words() == f"{count} traces have no digest."
    with Archive(tmp_path / "record.db") as archive:
        assert archive.trace(1, 1)


def test_one_trace_without_a_digest_is_one(tmp_path: Path) -> None:
    assert _old(tmp_path, silicone_with_a_late_drip()).traces.words() == "1 trace has no digest."


def test_casts_of_several_benches_are_all_looked_through(tmp_path: Path) -> None:
    """Each bench counts its casts from another million on."""
    story, numbers = Story(), (1, 2, 201, 3_000_001, 9_000_400)
    traces = []
    for number in numbers:
        story.whole_cast(number)
        traces.append(KeepTrace(number, 1, ((0.0, 0), (0.5, 800))))
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries, traces)
    assert verify(tmp_path / "record.db").traces.undigested == len(numbers)
