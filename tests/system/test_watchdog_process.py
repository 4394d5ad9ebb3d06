"""The service as a process: told to a manager, killed, hung and broken. Nothing is timed; deadlines only end a wait."""

from __future__ import annotations

import signal
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from station.core.snapshot import BannerKind
from station.service import BUG
from station.starts import CRASHES, FILE
from station.store.ledger import SqlLedger
from station.watchdog.dog import HUNG
from tests.benchmarks.grown import grown
from tests.play import SILICONE, Play
from tests.system.guarded_process import Manager


@pytest.fixture
def manager(tmp_path: Path) -> Iterator[Manager]:
    with Manager(tmp_path) as manager:
        yield manager


def mixed(state: Path) -> int:
    """A record in which a batch was mixed, long ago and in another boot; the number of its cast."""
    play = Play()
    play.begin(SILICONE, "110")
    play.put("30")
    play.pour("100")
    play.pour("10")
    assert play.cast.contact is not None
    with SqlLedger(state) as ledger:
        ledger.write(play.entries)
    return play.cast.number


def test_an_alarm_that_sounds_is_back_after_kill_9(manager: Manager) -> None:
    number = mixed(manager.state)
    manager.start()
    before = manager.seen()
    assert (number, "POT_LIFE") in [(alarm["number"], alarm["clock"]["name"]) for alarm in before["alarms"]]
    for _ in range(3):
        manager.kill()
        manager.start()
        after = manager.seen()
        assert [alarm["words"] for alarm in after["alarms"]] == [alarm["words"] for alarm in before["alarms"]]
        assert after["bench"]["number"] == number
    assert manager.stop() == 0


def test_while_a_long_record_is_read_the_manager_is_told_how_far_it_has_come(manager: Manager) -> None:
    grown(manager.state, 32)
    with closing(sqlite3.connect(manager.state / "record.db")) as db, db:
        db.execute("UPDATE checkpoints SET code = 'that of a version before'")
    manager.start()
    read = [line for line in manager.before_ready if line.startswith("STATUS=The record is being read")]
    assert read == ["STATUS=The record is being read: 500 rows so far."]
    assert manager.stop() == 0


def test_a_healthy_station_is_fed_with_and_without_its_scale_and_tells_of_its_end(manager: Manager) -> None:
    manager.start()
    for _ in range(10):
        manager.hears("WATCHDOG=1")
    manager.scale.unplug()
    for _ in range(20):
        manager.hears("WATCHDOG=1")
    assert manager.stop() == 0
    assert "STOPPING=1" in manager.last
    assert not [line for line in manager.last if line.startswith("STATUS")]
    assert (manager.state / FILE).read_text().split()[-3] == "ended"


def test_the_sixth_start_after_five_crashes_is_in_safe_mode_and_an_orderly_stop_leaves_it(manager: Manager) -> None:
    for _ in range(CRASHES):
        manager.start()
        assert "afe mode" not in manager.logged()
        manager.kill()
    manager.start()
    assert "crashed 5 times within 10 minutes" in manager.logged()
    assert "Safe mode, because the station crashed 5 times" in manager.page()
    assert [b["kind"]["name"] for b in manager.seen()["banners"]].count(BannerKind.SAFE_MODE.name) == 1
    assert manager.stop() == 0
    manager.start()
    assert "afe mode" not in manager.logged() + manager.page()
    assert manager.stop() == 0


def test_safe_mode_can_be_asked_for_and_the_manager_shows_it(manager: Manager) -> None:
    manager.start("--safe")
    assert "Safe mode, because it was asked for." in manager.page("/log")
    assert "Safe mode" in manager.logged()
    assert manager.stop() == 0


def test_starts_are_counted_in_the_folder_in_memory_where_there_is_one(tmp_path: Path) -> None:
    with Manager(tmp_path) as manager:
        manager._environ["RUNTIME_DIRECTORY"] = str(tmp_path / "run")
        manager.start()
        manager.stop()
    assert [line.split()[0] for line in (tmp_path / "run" / FILE).read_text().splitlines()] == ["begun", "ended"]
    assert not (manager.state / FILE).exists()


def test_a_bench_that_hangs_is_fed_no_more_and_ends_by_itself_and_says_where_it_hung(manager: Manager) -> None:
    manager.start(breakable=True)
    manager.hears("WATCHDOG=1")
    (manager.folder / "hang").touch()
    manager.hears("STATUS=No sign of life from the bench loop.")
    assert manager.ended() == HUNG
    assert "WATCHDOG=1" not in manager.last
    said = manager.logged()
    assert "No sign of life from the bench loop" in said
    assert "in breakable" in said, "where it hung"
    (manager.folder / "hang").unlink()
    manager.start(breakable=True)
    assert manager.stop() == 0


def test_a_bug_in_the_bench_ends_the_process_with_its_code_and_its_trace(manager: Manager) -> None:
    manager.start(breakable=True)
    (manager.folder / "bug").touch()
    assert manager.ended() == BUG
    assert "a bug for the test" in manager.logged()
    assert "STOPPING=1" in manager.last
    assert "ended" not in (manager.state / FILE).read_text()


@pytest.mark.parametrize("how", ["bug", "stop"])
def test_an_end_that_hangs_leaves_no_zombie(manager: Manager, how: str) -> None:
    manager.start(breakable=True)
    (manager.folder / "hang at the end").touch()
    if how == "bug":
        (manager.folder / "bug").touch()
        assert manager.ended() == HUNG
        assert "a bug for the test" in manager.logged()
    else:
        assert manager.stop() == HUNG
    assert "The station has not closed within 1 s." in manager.logged()


def test_without_a_manager_nothing_is_told_and_a_hang_still_ends_the_process(manager: Manager) -> None:
    manager.start(breakable=True, alone=True)
    (manager.folder / "hang").touch()
    assert manager.ended() == HUNG
    assert manager.last == []


def test_the_signal_by_which_a_manager_ends_a_hang_leaves_in_the_log_where_it_hung(manager: Manager) -> None:
    manager.start(breakable=True)
    (manager.folder / "hang").touch()
    manager.hears("STATUS=No sign of life from the bench loop.")
    assert manager.run is not None
    manager.run.send_signal(signal.SIGABRT)
    ended = manager.ended()
    assert "Fatal Python error: Aborted" in manager.logged()
    # Other threads run on while their places are written down, and a frame that changes meanwhile may end the dump.
    assert ended in (-signal.SIGABRT, -signal.SIGSEGV)
    if ended == -signal.SIGABRT:
        assert "in breakable" in manager.logged()
