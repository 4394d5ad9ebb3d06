"""A thread that hangs while it lives: the manager is told nothing more, whichever of the two it is that hangs."""

from __future__ import annotations

import re
import threading
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.testing import ScriptedClock
from station.watchdog.dog import Running, Watchdog
from station.watchdog.notify import Notifier
from tests.system.guarded import WITHIN_S, Guarded
from tests.test_watchdog_pulses import Manager


class Looking:
    """A second watchdog of a running station, whose seconds pass only after everybody who can has made progress."""

    def __init__(self, guarded: Guarded, manager: Manager) -> None:
        self.guarded, self.manager, self.clock = guarded, manager, ScriptedClock()
        self.left: list[int] = []
        self.dog = Watchdog(Notifier(manager.address), self.clock, self.left.append)
        self.dog.watch(Running(guarded.station.pulses, guarded.station.inbox.end, lambda: True, "Well."))

    def seconds(self, count: int, but: str = "") -> list[str]:
        told: list[str] = []
        for _ in range(count):
            for pulse in self.guarded.station.pulses:
                if pulse.name != but:
                    self._moves(pulse.beats)
            self.clock.advance(1)
            self.dog.look()
            told += self.manager.told()
        return told

    def _moves(self, beats) -> None:  # type: ignore[no-untyped-def]
        before, clock = beats(), SystemClock()
        end_s = clock.now().boot_s + WITHIN_S
        while beats() == before:
            assert clock.now().boot_s < end_s
            self.guarded.port.emit(b"ST,+000000.0  g\r\n")
            threading.Event().wait(0.01)


@pytest.fixture
def looking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    manager = Manager(str(tmp_path / "second"))
    with Guarded(tmp_path, monkeypatch) as guarded:
        yield Looking(guarded, manager)
    manager.close()


@pytest.mark.parametrize(("thread", "name"), [("bench", "the bench loop"), ("scale", "the scale's thread")])
def test_who_hangs_is_named_and_life_is_told_no_more_until_it_goes_on(looking: Looking, thread: str, name: str) -> None:
    assert looking.seconds(3)[:1] == ["READY=1"]
    looking.guarded.clock.held.add(thread)
    told = looking.seconds(15, but=name)
    assert f"STATUS=No sign of life from {name}." in told
    assert told[-1] != "WATCHDOG=1"
    assert "WATCHDOG=1" not in looking.seconds(10, but=name)
    looking.guarded.clock.held.clear()
    looking.guarded.clock.go.set()
    assert looking.seconds(2)[-1] == "WATCHDOG=1"
    assert looking.left == []


def test_who_makes_progress_is_fed_all_the_time(looking: Looking) -> None:
    told = looking.seconds(40)
    assert told.count("WATCHDOG=1") == 39
    assert looking.left == []


def test_a_hang_that_nobody_ends_is_ended_by_the_process_itself(
    looking: Looking, capfd: pytest.CaptureFixture[str]
) -> None:
    looking.seconds(3)
    looking.guarded.clock.held.add("scale")
    looking.seconds(32, but="the scale's thread")
    assert looking.left
    assert re.search(r'guarded\.py", line \d+ in now', capfd.readouterr().err), "where it hangs is printed"


def test_a_scale_that_is_not_there_is_no_hang(looking: Looking) -> None:
    looking.guarded.port.unplug()
    told: list[str] = []
    for _ in range(5):
        for pulse in looking.guarded.station.pulses:
            before = pulse.beats()
            while pulse.beats() == before:
                assert not looking.guarded.over.wait(0.01)
        looking.clock.advance(1)
        looking.dog.look()
        told += looking.manager.told()
    assert told.count("WATCHDOG=1") == 4
