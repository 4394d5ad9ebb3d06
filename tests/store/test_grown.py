"""The record that benchmarks measure is one that the station could have written: else its figures would say nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from station.store.schema import DERIVED
from station.store.verify import verify
from tests.benchmarks.grown import CASTS_PER_LOT, grown
from tests.store.disk import table

CASTS = 90


def derived(record: Path) -> dict[str, list[tuple[Any, ...]]]:
    """All derived tables; seconds that were reckoned from boot times agree to a millionth."""
    return {
        one.name: [
            tuple(round(value, 6) if isinstance(value, float) else value for value in row)
            for row in table(record, one.name)
        ]
        for one in DERIVED
    }


def test_a_grown_record_is_whole_and_what_is_derived_from_it_is_what_a_rebuild_gives(tmp_path: Path) -> None:
    record = grown(tmp_path, CASTS)
    verdict = verify(record)
    assert verdict.ok
    assert verdict.traces.damaged == ()
    with SqlLedger(tmp_path) as ledger:
        standing = ledger.standing()
    assert (standing.last_number, standing.casts) == (CASTS, ())
    assert len(standing.lots) == 2 * -(-CASTS // CASTS_PER_LOT)
    kept = derived(record)
    writer = open_writer(record)
    rebuild(writer)
    writer.dispose()
    assert derived(record) == kept
