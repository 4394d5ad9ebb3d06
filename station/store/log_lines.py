"""The log itself as JSON Lines: every journal row with its seal, so that another station can take it over whole.

A head, the rows in their order, the boots with their wall clocks, the weighing traces, and an end that counts them: a
file that was cut off lacks it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Engine, select

from station.store.chain import GENESIS, Row
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.journal import CHUNK
from station.store.schema import VERSION, evidence, traces
from station.store.trace_codec import unpack
from station.store.traces import fits_its_digest
from station.store.verify import walked

FORMAT: Final = 1
HEAD, ENTRY, BOOT, TRACE, END = "log", "entry", "boot", "trace", "end"
"""What a line is, under "is"."""
_COLUMNS: Final = tuple(one.name for one in fields(Row))


def log_lines(place: Path | str, upto: int, version: str) -> Iterator[str]:
    """The log up to journal row `upto`, each row proved. Raises LedgerFault, and ChainBroken where it is damaged."""
    engine = open_reader(place)
    try:
        with told_as_faults(place):
            yield _line({"is": HEAD, "format": FORMAT, "version": version, "record": VERSION})
            count, last = 0, GENESIS
            for row in walked(engine):
                if row.seq > upto:
                    break
                yield _line({"is": ENTRY, **{name: getattr(row, name) for name in _COLUMNS}})
                count, last = row.seq, row.digest
            yield from _boots(engine)
            kept = 0
            for line in _traces(engine):
                kept += 1
                yield line
            yield _line({"is": END, "entries": count, "traces": kept, "digest": last})
    finally:
        engine.dispose()


def _line(content: dict[str, Any]) -> str:
    return json.dumps(content, separators=(",", ":")) + "\n"


def _boots(engine: Engine) -> Iterator[str]:
    with engine.begin() as db:
        found = db.execute(select(evidence).order_by(evidence.c.ordinal)).mappings().all()
    for one in found:
        told = {name: value for name, value in one.items() if name not in ("journal_seq", "journal_digest")}
        yield _line({"is": BOOT, **told})


def _traces(engine: Engine) -> Iterator[str]:
    """Milliseconds and milligrams of each trace that is whole; a damaged one is no use to anybody."""
    after = (-1, -1)
    while True:
        number, step = traces.c.cast_number, traces.c.step
        later = (number > after[0]) | ((number == after[0]) & (step > after[1]))
        with engine.begin() as db:
            found = db.execute(select(traces).where(later).order_by(number, step).limit(CHUNK)).all()
            whole = [one for one in found if fits_its_digest(db, (one.cast_number, one.step), one.points)]
        for one in whole:
            points = [[round(seconds * 1000), mg] for seconds, mg in unpack(one.points)]
            yield _line({"is": TRACE, "cast_number": one.cast_number, "step": one.step, "points": points})
        if not found:
            return
        after = (found[-1].cast_number, found[-1].step)
