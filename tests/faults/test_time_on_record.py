"""What the record keeps of a power cut whose length was learned later, and of a time that was set by hand."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from station.core import messages as msg
from station.core.clocks import ClockKind
from station.records import BatchRecord
from station.store.archive import Archive
from station.store.batch_record import as_text
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.core.test_gaps import cut, hear
from tests.core.test_time import curing, mixing
from tests.play import Play


def recorded(folder: Path, play: Play) -> BatchRecord:
    """The batch record of the cast, from a journal that is whole."""
    with SqlLedger(folder) as ledger, Archive(ledger.place) as archive:
        ledger.write(play.entries)
        assert ledger.standing() == play.standing
        record = archive.record(1)
        assert verify(ledger.place).ok
    assert record is not None
    return record


def test_an_alarm_that_only_the_doubt_had_raised_is_no_missed_alarm(tmp_path: Path) -> None:
    play = mixing()
    cut(play, off_s=120)
    hear(play)
    assert recorded(tmp_path, play).alarms == ()


def test_the_withdrawn_alarm_that_rings_again_is_recorded_as_that(tmp_path: Path) -> None:
    play = mixing()
    cut(play, off_s=120)
    hear(play)
    play.wait(1800, tick_s=1.0)
    alarms = recorded(tmp_path, play).alarms
    assert {alarm.clock: alarm.late_s for alarm in alarms} == {
        ClockKind.POT_LIFE: pytest.approx(0, abs=1.0),
        ClockKind.POUR_BY: pytest.approx(0, abs=1.0),
    }


def test_a_cut_that_somebody_told_stands_in_the_batch_record(tmp_path: Path) -> None:
    play = curing()
    cut(play, off_s=900)
    play.send(msg.TellGap("boot-2", 900.0, "page"))
    play.send(msg.AddNote(1, "still here", "page"))
    record = recorded(tmp_path, play)
    assert [outage.seconds for outage in record.outages] == [900.0]
    assert "station back after 15 min 0 s" in as_text(record)


def test_rows_written_before_the_time_was_set_by_hand_are_shown_by_it_and_the_journal_says_whose_word_it_was(
    tmp_path: Path,
) -> None:
    play = curing()
    cut(play, off_s=900)
    play.send(msg.AddNote(1, "before", "page"))
    at_s, right = play.boot_s, play.true_wall  # type: ignore[attr-defined]
    play.send(msg.TellTime(right + timedelta(seconds=play.boot_s - at_s), "page"))
    play.wall, play.trusted, play.by_hand = right, True, True
    play.wait(1)
    play.send(msg.AddNote(1, "after", "page"))
    before, after = recorded(tmp_path, play).remarks
    assert before.at.sure
    assert after.at.sure
    assert abs((before.at.wall - right).total_seconds()) < 0.01
    with SqlLedger(tmp_path) as ledger:
        last = ledger.last_seen()
    assert last is not None
    assert last.by_hand
