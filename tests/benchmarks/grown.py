"""A record of as many casts as wanted: one cast lived through, then repeated row by row, sealed and chained.

The rows are what the station itself would have written: `verify` finds them whole, and the fold gives the state that
is kept as a checkpoint. Only the way they come about is shorter: one true cast through the ledger gives the rows of
the journal and of the derived tables, the others are its rows with number, seq, time, lots and mold changed.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.events import CastBegun, Entry, cast_number
from station.core.fold import replayed
from station.core.judging_events import Verdict
from station.core.judging_messages import Judge
from station.core.material import Lot
from station.store.chain import GENESIS, Row, row_of, sealed_by
from station.store.ledger import SqlLedger
from station.store.schema import DERIVED
from station.store.witness import WITNESS_FILE, Seen, Witness
from tests.play import Play

APART_S = 3600.0
MOLDS = 40
CASTS_PER_LOT = 50
JOURNAL = "INSERT INTO journal VALUES (?,?,?,?,?,?,?,?,?,?)"
LOTS = (Lot("A", "wf-a-00000"), Lot("B", "wf-b-00000"))


def lived() -> Play:
    """One cast of a silicone from its first cup to the end of its cure, on an invented bench."""
    play = Play()
    play.silicone_in_the_mold(LOTS)
    play.wait(15000, tick_s=60.0)
    play.send(msg.Demold(1, "page"))
    play.wait(90000, tick_s=600.0)
    play.send(msg.Acknowledge(1, ClockKind.FULL_CURE, "page"))
    play.send(Judge(1, Verdict.GOOD, (), "fills the corner well", "page"))
    assert not play.standing.casts, "the template is to be a finished cast"
    return play


@dataclass(frozen=True, slots=True)
class Template:
    """Rows of one cast: of the journal with their content, and of each other table as dictionaries."""

    rows: tuple[tuple[Row, Any], ...]
    tables: dict[str, list[dict[str, Any]]]


def grown(folder: Path, casts: int) -> Path:
    """Make a record of so many casts in `folder`, ready for a start; the record's file."""
    play = lived()
    entries = [entry for entry in play.entries if cast_number(entry.event) == 1]
    with SqlLedger(folder) as ledger:
        ledger.write(entries, play.traces)
        place = ledger.place
    with closing(sqlite3.connect(place, isolation_level=None)) as db:
        db.row_factory = sqlite3.Row
        template = _template(db, entries)
        db.execute("PRAGMA synchronous=OFF")
        db.execute("BEGIN")
        last = _repeated(db, template, casts)
        db.execute("UPDATE evidence SET journal_seq=?, journal_digest=?, last_boot_s=?, last_wall=?", _end(last))
        db.execute("COMMIT")
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        first = db.execute("SELECT digest FROM journal WHERE seq=1").fetchone()[0]
    Witness(folder / WITNESS_FILE).note(Seen(first, last.seq, last.digest))
    with SqlLedger(folder) as ledger:
        ledger.keep_standing(replayed(ledger.entries()))
    return place


def _lot(number: str, batch: int) -> str:
    return f"{number[:5]}{batch:05}"


def _template(db: sqlite3.Connection, entries: list[Entry]) -> Template:
    previous, rows = GENESIS, []
    for seq, entry in enumerate(entries, 1):
        row = row_of(entry, seq, previous)
        previous = row.digest
        rows.append((row, json.loads(row.payload)))
    names = [*(table.name for table in DERIVED), "traces"]
    tables = {name: [dict(row) for row in db.execute(f"SELECT * FROM {name}")] for name in names}
    return Template(tuple(rows), tables)


def _end(last: Row) -> tuple[Any, ...]:
    return last.seq, last.digest, last.boot_s, last.wall


def _repeated(db: sqlite3.Connection, template: Template, casts: int) -> Row:
    """Write casts 2 to `casts`; the journal's last row."""
    last = template.rows[-1][0]
    for number in range(2, casts + 1):
        before, fresh = last.seq, []
        for row in _rows(template, number, last):
            fresh.append(row)
            last = row
        db.executemany(
            JOURNAL,
            [
                (r.seq, r.kind, r.cast_number, r.boot_id, r.boot_s, r.wall, r.trusted, r.payload, r.previous, r.digest)
                for r in fresh
            ],
        )
        for name, rows in template.tables.items():
            for row in rows:
                moved = _moved(row, number, before)
                marks = ",".join("?" * len(moved))
                db.execute(f"INSERT INTO {name} ({','.join(moved)}) VALUES ({marks})", tuple(moved.values()))
    return last


def _rows(template: Template, number: int, last: Row) -> Iterator[Row]:
    later_s, batch = (number - 1) * APART_S, (number - 1) // CASTS_PER_LOT
    seq, previous = last.seq, last.digest
    for row, content in template.rows:
        seq += 1
        wall = datetime.fromisoformat(row.wall) + timedelta(seconds=later_s)
        moved = replace(
            row,
            seq=seq,
            cast_number=number,
            boot_s=row.boot_s + later_s,
            wall=wall.isoformat(),
            payload=_payload(row.kind, content, number, later_s, batch),
            previous=previous,
            digest="",
        )
        previous = sealed_by(moved)
        yield replace(moved, digest=previous)


def _payload(kind: str, content: Any, number: int, later_s: float, batch: int) -> str:
    changed = {**content, "number": number}
    if isinstance(moment := content.get("at"), dict):
        wall = datetime.fromisoformat(moment["wall"]) + timedelta(seconds=later_s)
        changed["at"] = {**moment, "boot_s": moment["boot_s"] + later_s, "wall": wall.isoformat()}
    if kind == CastBegun.__name__:
        plan = content["plan"]
        lots = [{**lot, "number": _lot(lot["number"], batch)} for lot in plan["lots"]]
        changed["plan"] = {**plan, "lots": lots, "mold": {**plan["mold"], **_mold(number)}}
    return json.dumps(changed, sort_keys=True, separators=(",", ":"))


def _mold(number: int) -> dict[str, str]:
    which = number * 7 % MOLDS
    return {"key": f"mold-{which}", "title": f"Mold {which} of Wrenfield Works"}


def _moved(row: dict[str, Any], number: int, before: int) -> dict[str, Any]:
    """A row of another table for cast `number`, whose journal begins after row `before`."""
    batch, mold = (number - 1) // CASTS_PER_LOT, _mold(number)
    moved = {name: _value(name, value, before, batch) for name, value in row.items()}
    for name in {"number", "cast_number"} & moved.keys():
        moved[name] = number
    if "mold_shot" in moved:
        # The first cast has a mold of its own; from the second on each mold takes every fortieth.
        first = number % MOLDS if number % MOLDS > 1 else number % MOLDS + MOLDS
        shot = (number - first) // MOLDS + 1
        moved |= {"mold_key": mold["key"], "mold_shot": shot, "before": number - 1}
    if "searched" in moved:
        moved |= {"mold_key": mold["key"], "mold": mold["title"], "begun_s": row["begun_s"] + (number - 1) * APART_S}
        words = moved["searched"].split(" ", 1)[1].replace(f"{row['mold']} {row['mold_key']}".casefold(), "{mold}")
        moved["searched"] = f"{number} {words}".replace("{mold}", f"{mold['title']} {mold['key']}".casefold())
    return moved


def _value(name: str, value: Any, before: int, batch: int) -> Any:
    """One of its values: places in the journal are later ones, lots are those of the batch."""
    if name.endswith("seq") and value is not None:
        return value + before
    if isinstance(value, str):
        for lot in LOTS:
            value = value.replace(lot.number, _lot(lot.number, batch))
    return value
