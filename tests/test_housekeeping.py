"""Housekeeping: chores run at once, and free memory goes back to the system."""

from __future__ import annotations

import ctypes
import os
import threading

import pytest

from station.housekeeping import GIVES_BACK_S, give_back, housekeeping
from tests.benchmarks.process import resident_mb


def test_what_lies_free_between_what_is_in_use_goes_back_to_the_system() -> None:
    if not hasattr(ctypes.CDLL(None), "malloc_trim"):
        pytest.skip("this C library keeps what it likes")
    blocks = [bytearray(3000) for _ in range(20_000)]
    kept = blocks[::50]
    blocks.clear()
    before = resident_mb(os.getpid())
    give_back()
    assert resident_mb(os.getpid()) < before - 30
    assert len(kept) == 400


def test_it_goes_back_all_the_time_beside_a_chore_that_takes_long() -> None:
    begun, go_on = threading.Event(), threading.Event()

    def long_check() -> None:
        begun.set()
        assert go_on.wait(30)

    with housekeeping(lambda bug: None, long_check) as scheduler:
        assert begun.wait(30)
        job = scheduler.get_job("memory")
        assert job.func is give_back
        assert job.trigger.interval.total_seconds() == GIVES_BACK_S
        assert job.executor != scheduler.get_job("every hour").executor
        go_on.set()


def test_a_station_that_ends_the_moment_it_starts_leaves_no_bug_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    bugs: list[threading.ExceptHookArgs] = []
    monkeypatch.setattr(threading, "excepthook", bugs.append)
    for _ in range(20):
        with housekeeping(lambda bug: None, lambda: None):
            pass
    assert not bugs
