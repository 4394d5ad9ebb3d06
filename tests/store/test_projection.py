"""The derived tables are the journal seen another way: rebuilt from it they are the same."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.events import Entry
from station.core.mass import Mass
from station.records import Stage
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from tests.store.disk import DERIVED, opened, table, tables
from tests.store.stories import G, Story, a_day
from tests.store.strategies import ENTRIES, spaced


def _rebuilt(folder: Path) -> int:
    engine = open_writer(folder / "record.db")
    try:
        return rebuild(engine)
    finally:
        engine.dispose()


def test_rebuilt_tables_are_the_tables_that_were_there(tmp_path: Path) -> None:
    day = a_day(4)
    with SqlLedger(tmp_path) as ledger:
        for entry in day:
            ledger.write([entry])
    record = tmp_path / "record.db"
    before = tables(record)
    assert [len(before[name]) for name in DERIVED] == [4, 8, 4, 0, 0, 0, 8, 0, 4]
    with opened(record) as db:
        for name in reversed(DERIVED):
            db.execute(f"DELETE FROM {name}")
        assert _rebuilt(tmp_path) == len(day)
    assert tables(record) == before


@settings(max_examples=40, deadline=None)
@given(st.lists(ENTRIES, min_size=1, max_size=12).map(spaced))
def test_any_journal_rebuilds_to_the_same_tables(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Entry]
) -> None:
    folder = tmp_path_factory.mktemp("record")
    with SqlLedger(folder) as ledger:
        for entry in entries:
            ledger.write([entry])
    before = tables(folder / "record.db")
    _rebuilt(folder)
    assert tables(folder / "record.db") == before


def _stage(folder: Path) -> str:
    with opened(folder / "record.db") as db:
        (stage,) = db.execute("SELECT stage FROM casts").fetchone()
    return str(stage)


def test_the_stage_follows_the_deeds(tmp_path: Path) -> None:
    story = Story()
    with SqlLedger(tmp_path) as ledger:
        seen = []
        story.weigh_both(1)
        ledger.write(story.entries)
        seen.append(_stage(tmp_path))
        story.combine(1)
        story.mix_and_pour(1)
        ledger.write(story.entries)
        seen.append(_stage(tmp_path))
        story.cure_and_demold(1)
        ledger.write(story.entries)
        seen.append(_stage(tmp_path))
    assert seen == [Stage.AT_BENCH.value, Stage.IN_MOLD.value, Stage.DEMOLDED.value]


@pytest.mark.parametrize(
    ("event", "stage"),
    [(ev.BatchLost(1, "too much B"), Stage.LOST), (ev.Aborted(1, "fire drill", "page"), Stage.GIVEN_UP)],
)
def test_an_ended_cast_silences_its_alarms(tmp_path: Path, event: ev.Event, stage: Stage) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.tell(ev.AlarmRaised(1, ClockKind.POUR_BY, 0.0, "pour now"), 32)
    story.tell(event, 90)
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
    assert _stage(tmp_path) == stage.value
    with opened(tmp_path / "record.db") as db:
        assert db.execute("SELECT clock, silenced_seq, acknowledged_by, after_s FROM alarms").fetchall() == [
            ("pour by", len(story.entries), None, 90.0)
        ]


def test_going_on_silences_what_it_answers_and_nothing_else(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.tell(ev.AlarmRaised(1, ClockKind.POUR_BY, 0.0, "pour now"), 32)
    story.tell(ev.AlarmRaised(1, ClockKind.POT_LIFE, 0.0, "pot life is over"), 12)
    story.tell(ev.StepDone(1, 5, "pedal"), 3)
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
        query = "SELECT clock, after_s FROM alarms ORDER BY raised_seq"
        with opened(tmp_path / "record.db") as db:
            assert db.execute(query).fetchall() == [("pour by", 15.0), ("pot life", None)]
            story.tell(ev.StepDone(1, 6, "pedal"), 4)
            ledger.write(story.entries)
            assert db.execute(query).fetchall() == [("pour by", 15.0), ("pot life", 7.0)]


def test_a_reopened_weighing_no_longer_counts(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.Reopened(1, 3, "B", Mass.grams("126.9")), 2)
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
    rows = table(tmp_path / "record.db", "weighings")
    assert [(row[3], row[-1]) for row in rows] == [("A", None), ("B", len(story.entries))]


def test_a_rebuild_sees_steps_as_they_were_then(tmp_path: Path) -> None:
    """Steps that were changed later do not change what an earlier press meant."""
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1)
    story.tell(ev.Recomputed(1, "B", G("116"), G("3.5"), G("309.3"), (), "too late"), 1)
    with SqlLedger(tmp_path) as ledger:
        for entry in story.entries:
            ledger.write([entry])
    before = tables(tmp_path / "record.db")
    assert _stage(tmp_path) == Stage.IN_MOLD.value
    _rebuilt(tmp_path)
    assert tables(tmp_path / "record.db") == before
