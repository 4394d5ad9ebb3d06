"""A derived table that holds what was never written there: a sentence, never a bug of the page that asks."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.judging_events import Defect, DefectKind, Judged, Severity, Verdict
from station.records import Asked
from station.store.archive import Archive
from station.store.faults import RecordDamaged
from station.store.ledger import SqlLedger
from tests.store.stories import Story

ASKS: dict[str, Callable[[Archive], object]] = {
    "the log": lambda archive: archive.page(Asked(), before=None, after=None, limit=30),
    "a cast": lambda archive: archive.record(1),
    "facts": lambda archive: archive.facts(last=60),
    "a lot": lambda archive: archive.lot("A-0417"),
}
STAGE, VERDICT = "UPDATE casts SET stage = 'curinh'", "UPDATE casts SET verdict = 'goof'"
SPOILT = [
    (STAGE, ("the log", "a cast", "a lot")),
    (VERDICT, ("the log", "facts", "a lot")),
    ("UPDATE defects SET kind = 'voif'", ("facts",)),
    ("UPDATE defects SET severity = 'slighu'", ("facts",)),
    ("UPDATE pours SET lots = ''", ("facts",)),
    ("UPDATE pours SET planned_mg = 'much'", ("facts",)),
    ("UPDATE alarms SET clock = 'demole'", ("a cast",)),
    ("UPDATE casts SET begun_seq = begun_seq + 1", ("a cast",)),
    ("UPDATE casts SET begun_seq = 100000", ("a cast",)),
]


@pytest.fixture
def record(tmp_path: Path) -> Path:
    """One cast, an alarm of which sounded, judged."""
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.whole_cast(1)
    story.tell(Judged(1, Verdict.USABLE, (Defect(DefectKind.VOID, Severity.SLIGHT, "heel"),), "", "page"))
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
        return Path(ledger.place)


@pytest.mark.parametrize(("spoil", "fails"), SPOILT, ids=[spoil for spoil, _ in SPOILT])
def test_a_strange_value_is_damage_and_said_in_a_sentence(record: Path, spoil: str, fails: tuple[str, ...]) -> None:
    with closing(sqlite3.connect(record, isolation_level=None)) as db:
        assert db.execute(spoil).rowcount, "there is something to spoil"
    with Archive(record) as archive:
        for name, ask in ASKS.items():
            if name in fails:
                with pytest.raises(RecordDamaged, match="damaged"):
                    ask(archive)
            else:
                ask(archive)


def test_a_whole_record_answers_all_of_it(record: Path) -> None:
    with Archive(record) as archive:
        for ask in ASKS.values():
            assert ask(archive)
