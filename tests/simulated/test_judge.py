"""The demo's person judges parts: always the same for a seed, as the sheet leads to expect, good and bad ones."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from station.core.judging_events import HardnessScale, Verdict
from station.core.judging_messages import Judge, ReadHardness, WeighPart
from station.records import BatchRecord
from station.simulated.judge import at_demold, at_full_cure
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.stories import a_day


def _record(folder: Path, hardness: str) -> BatchRecord:
    with SqlLedger(folder) as ledger:
        ledger.write(a_day(1))
    with Archive(folder / "record.db") as archive:
        record = archive.record(1)
    assert record is not None
    assert record.part is not None
    return replace(record, part=replace(record.part, sheet_hardness=hardness))


def test_a_seed_repeats_exactly(tmp_path: Path) -> None:
    record = _record(tmp_path, "25 Shore A")
    assert at_demold(record, 1) == at_demold(record, 1)
    assert at_demold(record, 1) != at_demold(record, 2)


def test_readings_lie_about_what_the_sheet_says_and_only_if_it_says_it(tmp_path: Path) -> None:
    for sheet, scale, near in (("25 Shore A", HardnessScale.SHORE_A, 25), ("45 Shore 00", HardnessScale.SHORE_00, 45)):
        record = _record(tmp_path / sheet.replace(" ", "-"), sheet)
        read = [one for one in at_full_cure(record, 1) if isinstance(one, ReadHardness)]
        assert [one.scale for one in read] == [scale] * 3
        assert all(abs(one.value - near) < 5 for one in read)
    assert at_full_cure(_record(tmp_path / "soft", "soft"), 1) == ()


def test_most_parts_are_good_some_are_not_and_each_weighs_less_than_its_mix(tmp_path: Path) -> None:
    record = _record(tmp_path, "25 Shore A")
    said = [word for seed in range(200) for word in at_demold(record, seed)]
    verdicts = [one.verdict for one in said if isinstance(one, Judge)]
    assert set(verdicts) == set(Verdict)
    assert verdicts.count(Verdict.GOOD) > 100
    assert all((one.verdict is Verdict.GOOD) == (one.defects == ()) for one in said if isinstance(one, Judge))
    assert all(one.mass < record.actual_total for one in said if isinstance(one, WeighPart))
