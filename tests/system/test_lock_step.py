"""A station in lock step: its clock is moved by a script, which may leap while something is being written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from station.core.effects import KeepTrace
from station.core.events import Entry
from station.core.messages import Abort
from station.core.snapshot import BannerKind
from station.store.chain import Row
from station.store.ledger import SqlLedger
from tests.system.whole import Whole

LEAP_S = 600.0


def test_a_clock_that_leaps_during_a_write_makes_no_disk_slow(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole, real, slow = Whole(tmp_path), SqlLedger.write, []

    def leaping(self: SqlLedger, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
        whole.clock.advance(LEAP_S)
        return real(self, entries, traces)

    with whole:
        monkeypatch.setattr(SqlLedger, "write", leaping)
        for _ in range(3):
            begin = whole.station.library.plan("example-silicone", "paddle-grip", "", {}, "test")
            number = whole.ask(begin)
            assert number is not None
            whole.ask(Abort(number, "only a test", "test"))
            slow.append([banner for banner in whole.seen.banners if banner.kind is BannerKind.RECORD])
    assert slow == [[], [], []]
