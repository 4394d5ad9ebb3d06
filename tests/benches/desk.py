"""A bench with a real record in a folder, and questions to the server's copy by another hand than the station's."""

from __future__ import annotations

from pathlib import Path

import psycopg

from station.benches.copying import copy_next
from station.benches.identity import Own
from station.benches.server import Server
from station.benches.tables import prepare
from station.core.events import Entry
from station.sharing import RecordFeed
from station.store.chain import GENESIS, Row, sealed_by
from station.store.ledger import SqlLedger
from tests.store.stories import a_day


class Desk:
    """A ledger with its feed. `batch` is small, so that there are many transactions to break."""

    def __init__(
        self, folder: Path, url: str, bench: int, *, station_id: str = "", batch: int = 7, connect_s: int = 5
    ) -> None:
        self.ledger = SqlLedger(folder)
        self.feed = RecordFeed(self.ledger.place)
        self.server = Server(url, connect_s)
        self.own = Own(bench, station_id or f"{bench:032x}", f"Bench {bench}")
        self.batch = batch

    def write(self, *entries: Entry) -> None:
        self.ledger.write(entries)

    def copy(self) -> int:
        """One transaction."""
        with self.server.transaction() as db:
            prepare(db)
            return copy_next(db, self.own, self.feed, self.batch)

    def copy_all(self) -> None:
        while self.copy():
            pass

    def rows(self) -> list[Row]:
        return list(self.feed.rows_after(0, 10**6))

    def close(self) -> None:
        self.server.close()
        self.feed.close()
        self.ledger.close()


def day(casts: int = 2) -> tuple[Entry, ...]:
    return tuple(a_day(casts))


def dsn(url: str) -> str:
    return url.replace("+psycopg", "")


def copied(url: str, bench: int) -> list[Row]:
    """The copy of a bench's journal in the order in which the server holds it by number."""
    with psycopg.connect(dsn(url)) as db:
        found = db.execute(
            "SELECT seq, kind, cast_number, boot_id, boot_s, wall, trusted, payload, previous, digest "
            "FROM shared_journal WHERE bench = %s ORDER BY seq",
            (bench,),
        ).fetchall()
    return [Row(*columns) for columns in found]


def wrong_with(rows: list[Row]) -> str:
    """What is wrong with a copy: a row twice, missing, out of the chain, or changed; empty when nothing is."""
    before = GENESIS
    for expected, row in enumerate(rows, 1):
        if row.seq < expected:
            return f"row {row.seq} stands there twice"
        if row.seq > expected:
            return f"row {expected} is missing"
        if row.previous != before or sealed_by(row) != row.digest:
            return f"row {row.seq} does not fit"
        before = row.digest
    return ""
