"""A restored record has the traces that the journal vouches for, wherever a whole one of them is still found."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.core.effects import KeepTrace
from station.core.moment import Moment
from station.store.backup.contents import Belongings
from station.store.backup.shelf import BackupShelf
from station.store.ledger import SqlLedger
from station.store.rescue.plan import plan_rescue
from station.store.rescue.restore import restore
from station.store.trace_codec import pack
from station.store.verify import verify
from tests.play import Play
from tests.store.benches import foam_combined_on_the_scale, silicone_with_a_late_drip
from tests.store.disk import opened, table

AT = Moment(9000.0, "boot-9", datetime(2026, 11, 26, 2, 30, tzinfo=UTC), True)


def _shelf(state: Path) -> BackupShelf:
    return BackupShelf(Belongings(state), state / "backups", "0.1")


def _written(state: Path, played: Play, saved: int) -> None:
    """The play as the station writes it, each trace with its row, and a backup after `saved` rows."""
    traces = list(played.traces)
    with SqlLedger(state) as ledger:
        for count, entry in enumerate(played.entries):
            if count == saved:
                _shelf(state).make(AT, "test")
            own: list[KeepTrace] = [traces.pop(0)] if getattr(entry.event, "trace", "") else []
            ledger.write([entry], own)
    assert not traces


def _restored(state: Path) -> Path:
    done = restore(plan_rescue(state, _shelf(state)), state, AT)
    assert done.lost == 0
    return state / "record.db"


def _accepted(played: Play, nth: int) -> int:
    """How many rows there are up to and with the nth weighing."""
    return [n for n, entry in enumerate(played.entries, 1) if getattr(entry.event, "trace", "")][nth]


@pytest.mark.parametrize("play", [foam_combined_on_the_scale, silicone_with_a_late_drip])
@pytest.mark.parametrize("nth", [0, 1])
def test_every_trace_is_carried_over_and_none_from_before_a_step_was_weighed_again(
    tmp_path: Path, play: Callable[[], Play], nth: int
) -> None:
    played = play()
    _written(tmp_path, played, _accepted(played, nth))
    before = table(tmp_path / "record.db", "traces")
    record = _restored(tmp_path)
    assert table(record, "traces") == before
    found = verify(record).traces
    assert (found.whole, found.undigested, found.damaged) == (len(before), 0, ())


def test_a_spoilt_trace_does_not_take_the_place_of_the_backup_s_whole_one(tmp_path: Path) -> None:
    played = foam_combined_on_the_scale()
    _written(tmp_path, played, _accepted(played, 1))
    whole = table(tmp_path / "record.db", "traces")
    with opened(tmp_path / "record.db") as db:
        db.execute("UPDATE traces SET points = ? WHERE step = 1", (pack([(0.0, 1)]),))
    assert verify(tmp_path / "record.db").traces.damaged == (1,)
    record = _restored(tmp_path)
    assert table(record, "traces") == whole
    assert verify(record).traces.damaged == ()


def test_a_trace_that_is_whole_nowhere_is_named_and_the_rest_restored(tmp_path: Path) -> None:
    played = foam_combined_on_the_scale()
    _written(tmp_path, played, 1)
    whole = table(tmp_path / "record.db", "traces")
    with opened(tmp_path / "record.db") as db:
        db.execute("UPDATE traces SET points = ? WHERE step = 1", (pack([(0.0, 1)]),))
    verdict = verify(_restored(tmp_path))
    assert verdict.ok
    assert (verdict.traces.whole, verdict.traces.damaged) == (len(whole) - 1, (1,))
