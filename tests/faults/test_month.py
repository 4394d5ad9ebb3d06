"""A month at the bench in which everything goes wrong now and then: every record is there at its end, and in order."""

from __future__ import annotations

import gc
import logging
import os
import threading
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.snapshot import ScaleState
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.faults.month import Month

EXPLAINED = (
    "record not written",
    "record cannot be used",
    "heartbeat not written",
    "no backup why",
    "record not checked",
)
"""Errors that the faults put in must give: a full card, a damaged record."""


def _growth() -> tuple[int, int, int]:
    gc.collect()
    rss = int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    return rss, threading.active_count(), len(os.listdir("/proc/self/fd"))


def _judged(month: Month, errors: list[str]) -> None:
    assert month.failure is None
    assert verify(month.state / "record.db").ok
    with SqlLedger(month.state) as ledger:
        written = list(ledger.entries())
    numbers = [entry.event.number for entry in written if isinstance(entry.event, ev.CastBegun)]
    assert numbers == sorted(set(numbers))
    assert written == month.known
    assert [words for words in errors if not words.startswith(EXPLAINED)] == []


def _lived(
    folder: Path, seed: int, days: int, casts: int, faults: float, *, one_process: bool = False
) -> tuple[Month, list[tuple[int, int, int]]]:
    month, sizes = Month(folder, seed, one_process), []
    month.port.plug_in()
    month.start()
    try:
        for _ in range(days):
            month.day(casts, faults)
            sizes.append(_growth())
    finally:
        month.stop()
        month.port.unplug()
    return month, sizes


@pytest.mark.parametrize("seed", [1, *(pytest.param(seed, marks=pytest.mark.soak) for seed in range(2, 13))])
def test_two_days_of_faults_lose_nothing(tmp_path: Path, caplog: pytest.LogCaptureFixture, seed: int) -> None:
    caplog.set_level(logging.ERROR)
    month, _ = _lived(tmp_path, seed, days=2, casts=2, faults=0.004)
    assert month.happened["casts"] == 4
    assert len(month.happened) > 4, month.happened
    _judged(month, [one.getMessage() for one in caplog.records if one.levelno >= logging.ERROR])


def test_lines_in_doubt_are_followed_by_others_until_they_are_believed(tmp_path: Path) -> None:
    """The control: garbage of several lines is doubted, and a person at the bench sees the number come back."""
    month = Month(tmp_path, 1)
    month.port.plug_in()
    month.start()
    try:
        month.clock.advance(100)
        for _ in range(3):
            month.port.emit(b"no scale\r\n" * 4)
            seen = month.frame()
        assert month.doubted
        while seen.scale.state is not ScaleState.LIVE:
            seen = month.frame()
    finally:
        month.stop()
        month.port.unplug()


def test_the_judge_finds_a_lost_entry(tmp_path: Path) -> None:
    """The control: one entry less than was made known must be noticed."""
    month, _ = _lived(tmp_path, 3, days=1, casts=1, faults=0.0)
    _judged(month, [])
    month.known.insert(3, month.known[3])
    with pytest.raises(AssertionError):
        _judged(month, [])


@pytest.mark.soak
@pytest.mark.parametrize("one_process", [True, False], ids=["in one process", "with restarts"])
def test_thirty_days_of_faults_lose_nothing_and_gather_nothing(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, capsys: pytest.CaptureFixture[str], one_process: bool
) -> None:
    """Promise: RSS grows by less than 5 MB after the first days, threads and files stay as many.

    What one process gathers is asked of the run in which it lives on: a restarted station is a new process in earnest.
    """
    caplog.set_level(logging.ERROR)
    month, sizes = _lived(tmp_path, 30, days=30, casts=3, faults=0.001, one_process=one_process)
    with capsys.disabled():
        print(f"\n{dict(month.happened)} rows={len(month.known)} first={sizes[0]} tenth={sizes[9]} last={sizes[-1]}")
    _judged(month, [one.getMessage() for one in caplog.records if one.levelno >= logging.ERROR])
    (rss, threads, files), (rss_then, threads_then, files_then) = sizes[9], sizes[-1]
    assert threads_then <= threads
    assert files_then <= files
    if one_process:
        assert rss_then - rss < 5_000_000
