"""Starts that are counted: five crashes in ten minutes of one boot ask for safe mode, and nothing else does."""

from __future__ import annotations

from pathlib import Path

import pytest

from station.starts import CRASHES, FILE, Starts, safe_mode
from station.testing import ScriptedClock


class Board:
    """A board whose station starts, crashes and stops as told."""

    def __init__(self, *folders: Path) -> None:
        self.folders, self.clock = folders, ScriptedClock()

    def start(self) -> Starts:
        self.starts = Starts(self.folders)
        self.crashed = self.starts.begun(self.clock.now())
        return self.starts

    def crash(self, after_s: float = 10.0) -> int:
        """The running station falls over after so many seconds and is started again. How many crashes are known."""
        self.clock.advance(after_s)
        self.start()
        return self.crashed

    def stop(self) -> None:
        self.clock.advance(5)
        self.starts.ended(self.clock.now())
        self.clock.advance(5)

    @property
    def safe(self) -> bool:
        return safe_mode(self.crashed) is not None


@pytest.fixture
def board(tmp_path: Path) -> Board:
    board = Board(tmp_path / "state")
    board.start()
    return board


def test_the_fifth_crash_within_ten_minutes_leads_to_safe_mode(board: Board) -> None:
    assert [board.crash(100) for _ in range(4)] == [1, 2, 3, 4]
    assert not board.safe
    assert board.crash(100) == CRASHES
    assert board.safe


def test_five_crashes_over_more_than_ten_minutes_do_not(board: Board) -> None:
    assert [board.crash(151) for _ in range(20)][4:] == [4] * 16
    assert not board.safe


def test_a_station_that_ran_for_hours_has_crashed_once_when_it_crashes(board: Board) -> None:
    assert board.crash(9 * 3600) == 1


def test_an_orderly_stop_forgets_the_crashes(board: Board) -> None:
    for _ in range(5):
        board.crash()
    assert board.safe
    board.stop()
    board.start()
    assert board.crashed == 0
    assert board.crash() == 1


def test_ten_minutes_without_a_crash_end_safe_mode_at_the_next_start(board: Board) -> None:
    for _ in range(5):
        board.crash()
    assert board.crash(599) == 2, "the one before and this one"
    for _ in range(4):
        board.crash()
    assert board.safe
    assert board.crash(601) == 1
    assert not board.safe


def test_crashes_in_safe_mode_keep_it(board: Board) -> None:
    for _ in range(30):
        board.crash()
    assert board.safe


def test_power_cuts_are_no_crashes_of_the_station(board: Board) -> None:
    for _ in range(10):
        board.clock.reboot(30)
        board.start()
        assert board.crashed == 0


def test_a_wall_clock_that_jumps_changes_nothing(board: Board) -> None:
    for _ in range(4):
        board.clock.step_wall(-86400)
        board.crash()
    board.clock.step_wall(10 * 86400)
    board.crash()
    assert board.safe


def test_the_file_stays_small(board: Board) -> None:
    for _ in range(500):
        board.crash(700)
    lines = (board.folders[0] / FILE).read_text().splitlines()
    assert len(lines) <= CRASHES + 1
    board.stop()
    board.start()
    assert len((board.folders[0] / FILE).read_text().splitlines()) == 1


def test_a_folder_that_cannot_be_written_is_stood_in_for_by_the_one_in_memory(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    (tmp_path / "card").write_text("not a folder")
    board = Board(tmp_path / "card", tmp_path / "run")
    board.start()
    for _ in range(5):
        board.crash()
    assert board.safe
    assert caplog.text == ""
    board.stop()
    board.start()
    assert not board.safe


def test_a_card_that_turns_read_only_loses_no_crash_and_counts_none_twice(tmp_path: Path) -> None:
    board = Board(tmp_path / "card", tmp_path / "run")
    board.start()
    board.crash()
    board.crash()
    (tmp_path / "card" / f".{FILE}.new").mkdir()  # now nothing can be put in its place
    assert board.crash() == 3
    assert board.crash() == 4
    (tmp_path / "card" / f".{FILE}.new").rmdir()
    assert board.crash() == 5


def test_where_nothing_can_be_written_the_station_starts_and_the_log_says_what_that_means(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    (tmp_path / "card").write_text("not a folder")
    board = Board(tmp_path / "card")
    board.start()
    board.stop()
    board.crash()
    assert not board.safe
    assert "no safe mode" in caplog.text
    assert "cannot be written" in caplog.text


def test_an_end_that_cannot_be_noted_is_logged(board: Board, caplog: pytest.LogCaptureFixture) -> None:
    (board.folders[0] / FILE).unlink()
    (board.folders[0] / FILE).mkdir()
    board.stop()
    assert "will count as a crash" in caplog.text


@pytest.mark.parametrize(
    "torn", [b"begun", b"begun boot-1 1e", b"\xff\x00\n", b"fell boot-1 12.0", b"begun boot-1 1 2"]
)
def test_a_torn_line_is_no_line(board: Board, torn: bytes) -> None:
    board.crash()
    with (board.folders[0] / FILE).open("ab") as file:
        file.write(torn)
    assert board.crash() == 2


def test_safe_mode_can_be_asked_for_and_says_why() -> None:
    assert safe_mode(0) is None
    asked, crashed = safe_mode(0, asked_for=True), safe_mode(7, asked_for=True)
    assert asked is not None
    assert "asked for" in asked.words
    assert crashed is not None
    assert "crashed 7 times within 10 minutes" in crashed.words
