"""Looking at the shared log without a station: whether every bench's copy is whole, what is at hand, which casts."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from station.benches.copying import BATCH, benches_there, rows_there
from station.benches.presence import others
from station.benches.server import Server
from station.benches.shelf import newest
from station.benches.tables import prepare
from station.neighbours import Neighbour, SharedCast
from station.store.chain import GENESIS, Row, sealed_by
from station.texts import t, tn


@dataclass(frozen=True, slots=True)
class Checked:
    """One bench's copy: `rows` are whole and in order; `wrong` says what comes then, empty when nothing is."""

    bench: int
    rows: int
    wrong: str

    def words(self) -> str:
        """The verdict as a sentence."""
        if self.wrong:
            return t("Bench {bench}: {wrong}", bench=self.bench, wrong=self.wrong)
        return tn(
            "Bench {bench}: its only row is whole.",
            "Bench {bench}: all {n} rows are whole and in order.",
            self.rows,
            bench=self.bench,
        )


def check_copies(url: str) -> tuple[Checked, ...]:
    """Walk the chain of every bench's copy. Raises SharedFault or NotTaken, each a sentence."""
    with closing(Server(url)) as server:
        with server.transaction() as db:
            prepare(db)
            digits = benches_there(db)
        return tuple(_checked(server, bench) for bench in digits)


def look(url: str) -> tuple[Neighbour, ...]:
    """What all benches have at hand. Raises SharedFault or NotTaken."""
    with closing(Server(url)) as server, server.transaction() as db:
        prepare(db)
        return others(db, None)


def casts_there(url: str, limit: int, but: int | None = None) -> tuple[SharedCast, ...]:
    """Casts of all benches except `but`, the last changed first. Raises SharedFault or NotTaken."""
    with closing(Server(url)) as server, server.transaction() as db:
        prepare(db)
        return newest(db, but=but, limit=limit)


def _checked(server: Server, bench: int) -> Checked:
    before, good = GENESIS, 0
    for row in _rows(server, bench):
        if row.seq != good + 1:
            return Checked(bench, good, t("row {row} is missing: row {next} comes next.", row=good + 1, next=row.seq))
        if sealed_by(row) != row.digest:
            return Checked(bench, good, t("row {row} was changed after it was written.", row=row.seq))
        if row.previous != before:
            return Checked(bench, good, t("row {row} does not follow the row before it.", row=row.seq))
        before, good = row.digest, good + 1
    return Checked(bench, good, "")


def _rows(server: Server, bench: int) -> Iterator[Row]:
    after = 0
    while True:
        with server.transaction() as db:
            some = _some(db, bench, after)
        if not some:
            return
        yield from some
        after = some[-1].seq


def _some(db: Connection, bench: int, after: int) -> list[Row]:
    found: list[Any] = rows_there(db, bench, after, BATCH)
    return [Row(*columns) for columns in found]
