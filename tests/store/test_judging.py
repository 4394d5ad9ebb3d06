"""What the tables show of judged parts: the latest word of each kind, and who still waits for one."""

from __future__ import annotations

from pathlib import Path

from station.core import events as ev
from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.part_records import PartRecord
from station.store.archive import Archive
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from tests.store.disk import opened, tables
from tests.store.stories import G, Story, a_day

VOID = Defect(DefectKind.VOID, Severity.CLEAR, "heel")
TEAR = Defect(DefectKind.TEAR, Severity.SPOILT)


def _written(folder: Path, *events: ev.Event) -> Path:
    """The record of a day of two casts, both demolded, with these events after it; rebuilt it is the same."""
    story = Story()
    story.entries += a_day(2)
    for event in events:
        story.tell(event, 5.0)
    with SqlLedger(folder) as ledger:
        for entry in story.entries:
            ledger.write([entry])
    record = folder / "record.db"
    before = tables(record)
    engine = open_writer(record)
    rebuild(engine)
    engine.dispose()
    assert tables(record) == before
    return record


def _row(record: Path, number: int) -> tuple[object, ...]:
    with opened(record) as db:
        columns = "part_mg, trimmed, verdict, waits"
        return tuple(db.execute(f"SELECT {columns} FROM casts WHERE number = ?", (number,)).fetchone())


def test_a_demolded_cast_waits_until_it_is_judged(tmp_path: Path) -> None:
    record = _written(tmp_path, ev.PartWeighed(1, G("62.4"), True, "Ada"), ev.Judged(1, Verdict.GOOD, (), "", "Ada"))
    assert _row(record, 1) == (62400, 1, "good", 0)
    assert _row(record, 2) == (None, None, None, 1)


def test_a_correction_takes_the_place_of_what_it_corrects(tmp_path: Path) -> None:
    record = _written(
        tmp_path,
        ev.PartWeighed(1, G("62.4"), True, "Ada"),
        ev.PartMassWithdrawn(1, "Ada"),
        ev.Judged(1, Verdict.GOOD, (VOID,), "", "Ada"),
        ev.Judged(1, Verdict.SCRAP, (TEAR, VOID), "fell open", "Ada"),
        ev.Judged(2, Verdict.GOOD, (VOID,), "", "Ada"),
        ev.VerdictWithdrawn(2, "Ada"),
    )
    assert _row(record, 1) == (None, None, "scrap", 0)
    assert _row(record, 2) == (None, None, None, 1)
    with opened(record) as db:
        found = db.execute("SELECT cast_number, kind, severity, place FROM defects ORDER BY ordinal").fetchall()
        searched = db.execute("SELECT searched FROM casts WHERE number = 1").fetchone()[0]
    assert found == [(1, "tear", "spoils the part", ""), (1, "void", "clear", "heel")]
    assert searched.endswith("fell open")


def test_readings_and_lengths_that_do_not_count_stay_and_say_so(tmp_path: Path) -> None:
    record = _written(
        tmp_path,
        ev.HardnessRead(1, 1, HardnessScale.SHORE_A, 28.0, "rim", 60.0, "Ada"),
        ev.HardnessRead(1, 2, HardnessScale.SHORE_A, 30.5, "rim", None, "Ada"),
        ev.HardnessWithdrawn(1, 1, "Ada"),
        ev.ShrinkageMeasured(1, 200.0, 199.0, "along", "Ada"),
        ev.ShrinkageMeasured(1, 200.0, 199.2, "along", "Ada"),
        ev.ShrinkageMeasured(1, 80.0, 79.5, "across", "Ada"),
        ev.ShrinkageWithdrawn(1, "across", "Ada"),
    )
    with opened(record) as db:
        hard = db.execute("SELECT reading, value, since_demold_s, withdrawn_seq IS NULL FROM hardness ORDER BY seq")
        assert hard.fetchall() == [(1, 28.0, 60.0, 0), (2, 30.5, None, 1)]
        long = db.execute("SELECT part_mm, place, replaced_seq IS NULL FROM lengths ORDER BY seq")
        assert long.fetchall() == [(199.0, "along", 0), (199.2, "along", 1), (79.5, "across", 0)]


def test_a_part_nobody_will_judge_waits_no_more(tmp_path: Path) -> None:
    record = _written(tmp_path, ev.JudgingWaived(2, "given away", "Ada"))
    assert [_row(record, number)[3] for number in (1, 2)] == [1, 0]


def _part(folder: Path, *events: tuple[float, ev.Event]) -> PartRecord:
    """What the record tells of cast 1 with these events after its demolding, each so many seconds later."""
    story = Story()
    story.entries += a_day(2)
    for after_s, event in events:
        story.tell(event, after_s)
    with SqlLedger(folder) as ledger:
        ledger.write(story.entries)
    with Archive(folder / "record.db") as archive:
        record = archive.record(1)
    assert record is not None
    assert record.part is not None
    return record.part


def _read(reading: int, value: float, scale: HardnessScale, since_s: float) -> ev.HardnessRead:
    return ev.HardnessRead(1, reading, scale, value, "", since_s, "Ada")


def test_a_part_that_cures_on_is_read_in_series_and_each_scale_stands_alone(tmp_path: Path) -> None:
    """The median of 22, 23 and 27 would be the hardness of nothing: the third is a day older."""
    part = _part(
        tmp_path,
        (5, _read(1, 22, HardnessScale.SHORE_A, 600)),
        (5, _read(2, 23, HardnessScale.SHORE_A, 700)),
        (5, _read(3, 60, HardnessScale.SHORE_00, 710)),
        (86400, _read(4, 27, HardnessScale.SHORE_A, 87000)),
    )
    found = [(one.scale.value, one.since_demold_s, one.median, one.count) for one in part.hardness]
    assert found == [("Shore 00", 710, 60, 1), ("Shore A", 600, 22.5, 2), ("Shore A", 87000, 27, 1)]


def test_nobody_waits_for_a_part_that_nobody_will_judge_until_somebody_does(tmp_path: Path) -> None:
    waived = ev.JudgingWaived(1, "given away", "Ada")
    part = _part(tmp_path, (5, waived))
    assert (part.waived, part.waits, part.verdict) == ("given away", False, None)
    (tmp_path / "other").mkdir()
    part = _part(tmp_path / "other", (5, waived), (5, ev.Judged(1, Verdict.GOOD, (), "", "Ada")))
    assert (part.waived, part.waits, part.verdict) == ("", False, Verdict.GOOD)
