"""The watchdog's look at pulses and threads, with a clock that is moved by hand and a socket that listens."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from station.testing import ScriptedClock
from station.watchdog import last_words
from station.watchdog.dog import CLOSING_S, HUNG, TOO_LONG_S, Running, Watchdog
from station.watchdog.notify import Notifier, notifier_of
from station.watchdog.pulse import Pulse
from station.watchdog.threads import PASSING, ThreadEnded, lasting

ALLOWED_S = 12.0


class Manager:
    """A socket to which a service manager would listen."""

    def __init__(self, address: str) -> None:
        self.address = address
        self._socket = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self._socket.bind(f"\0{address[1:]}" if address.startswith("@") else address)
        self._socket.setblocking(False)

    def told(self) -> list[str]:
        """All that was told since the last call."""
        lines: list[str] = []
        while True:
            try:
                lines += self._socket.recv(4096).decode().split("\n")
            except BlockingIOError:
                return lines

    def close(self) -> None:
        self._socket.close()


class Watched:
    """A station of counts, and its watchdog without a thread."""

    def __init__(self, manager: Manager) -> None:
        self.manager, self.clock = manager, ScriptedClock()
        self.left: list[int] = []
        self.dog = Watchdog(Notifier(manager.address), self.clock, self.left.append)
        self.beats = {"bench": 0, "scale": 0}
        self.bugs: list[BaseException] = []
        self.page = True

    def begin(self, threads: tuple[threading.Thread, ...] = ()) -> None:
        pulses = [Pulse(name, lambda name=name: self.beats[name], lambda: ALLOWED_S) for name in self.beats]
        self.dog.watch(Running(pulses, self.bugs.append, lambda: self.page, "All is well.", threads))

    def seconds(self, count: int, *but: str) -> list[str]:
        """So many looks, a second apart; all pulses beat `but` these. What the manager was told."""
        told = self.manager.told()
        for _ in range(count):
            for name in self.beats:
                self.beats[name] += name not in but
            self.clock.advance(1)
            self.dog.look()
            told += self.manager.told()
        return told


@pytest.fixture(params=["path", "abstract"])
def watched(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Watched]:
    manager = Manager(str(tmp_path / "notify") if request.param == "path" else f"@tarebell-test-{tmp_path}")
    yield Watched(manager)
    manager.close()


def test_nothing_is_told_while_the_station_is_made(watched: Watched) -> None:
    assert watched.seconds(600) == []


def test_while_a_long_record_is_read_the_manager_is_asked_for_patience_each_time(watched: Watched) -> None:
    watched.dog.reading(500)
    watched.dog.reading(12500)
    assert watched.manager.told() == [
        "EXTEND_TIMEOUT_USEC=60000000",
        "STATUS=The record is being read: 500 rows so far.",
        "EXTEND_TIMEOUT_USEC=60000000",
        "STATUS=The record is being read: 12,500 rows so far.",
    ]


def test_a_healthy_station_is_ready_once_and_is_fed_with_each_look(watched: Watched) -> None:
    watched.begin()
    told = watched.seconds(100)
    assert told[:3] == ["READY=1", "STATUS=All is well.", "WATCHDOG=1"]
    assert told.count("READY=1") == 1
    assert told.count("WATCHDOG=1") == 99, "the first look only learns where the counts stand"
    assert watched.left == []
    assert watched.bugs == []


def test_it_is_not_ready_before_the_page_answers(watched: Watched) -> None:
    watched.page = False
    watched.begin()
    assert watched.seconds(20) == []
    watched.page = True
    assert "READY=1" in watched.seconds(1)


@pytest.mark.parametrize("mute", ["bench", "scale"])
def test_it_is_not_ready_before_every_pulse_has_beaten(watched: Watched, mute: str) -> None:
    watched.begin()
    assert watched.seconds(10, mute) == []
    assert "READY=1" in watched.seconds(1)


def test_pulses_that_never_beat_between_the_same_two_looks_make_it_ready(watched: Watched) -> None:
    watched.begin()
    watched.seconds(1, "bench", "scale")
    assert watched.seconds(1, "scale") == []
    assert watched.seconds(1, "bench")[0] == "READY=1"


@pytest.mark.parametrize("mute", ["bench", "scale"])
def test_a_silent_pulse_is_named_once_and_the_feeding_ceases(
    watched: Watched, mute: str, caplog: pytest.LogCaptureFixture
) -> None:
    watched.begin()
    watched.seconds(5)
    assert watched.seconds(int(ALLOWED_S), mute) == ["WATCHDOG=1"] * 12
    assert watched.seconds(10, mute) == [f"STATUS=No sign of life from {mute}."]
    assert [record.message for record in caplog.records].count(
        f"No sign of life from {mute}. The station is started afresh unless that changes."
    ) == 1
    assert watched.left == []


def test_a_pulse_that_comes_back_is_fed_again(watched: Watched, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level("INFO")
    watched.begin()
    watched.seconds(5)
    watched.seconds(20, "bench", "scale")
    assert "bench and scale" in caplog.text
    assert watched.seconds(2) == ["STATUS=All is well.", "WATCHDOG=1", "WATCHDOG=1"]
    assert "All signs of life are back." in caplog.text


def test_where_nobody_else_does_it_a_hang_of_thirty_seconds_ends_the_process(
    watched: Watched, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    watched.begin()
    watched.seconds(5)
    watched.seconds(int(ALLOWED_S + TOO_LONG_S), "bench")
    assert watched.left == []
    watched.seconds(1, "bench")
    assert watched.left == [HUNG]
    assert "No sign of life from bench for 31 s. The process ends itself" in caplog.text


def test_a_laptop_that_slept_was_not_silent(watched: Watched) -> None:
    watched.begin()
    watched.seconds(5)
    watched.clock.advance(8 * 3600)
    watched.dog.look()
    assert watched.seconds(3) == ["WATCHDOG=1"] * 4
    assert watched.left == []


def test_a_thread_that_ended_ends_the_loop_with_its_name_once(watched: Watched) -> None:
    thread = threading.Thread(target=lambda: None, name="web")
    thread.start()
    thread.join()
    watched.begin((thread, threading.current_thread()))
    watched.seconds(3)
    assert [str(bug) for bug in watched.bugs] == ["The thread 'web' has ended while the station runs."]
    assert isinstance(watched.bugs[0], ThreadEnded)


def test_a_thread_that_is_only_just_beginning_has_not_ended(watched: Watched, monkeypatch: pytest.MonkeyPatch) -> None:
    """A busy machine may let a second go by between the start of a thread and its first line."""
    go = threading.Event()
    thread = threading.Thread(target=go.wait, name="chores_0", daemon=True)
    how = next(
        name for name in ("_start_joinable_thread", "_start_new_thread") if hasattr(threading, name)
    )  # 3.13, before
    begins = getattr(threading, how)
    runs = threading.Event()

    def late(*what: object, **more: object) -> None:
        looking = threading.Thread(target=look)
        monkeypatch.setattr(threading, how, begins)
        looking.start()
        looking.join()
        runs.set()
        begins(*what, **more)

    def look() -> None:
        assert thread in threading.enumerate()
        assert not thread.is_alive()
        watched.begin((thread,))
        watched.seconds(3)

    monkeypatch.setattr(threading, how, late)
    thread.start()
    assert runs.is_set()
    assert watched.bugs == []
    go.set()
    thread.join()
    watched.seconds(3)
    assert [str(bug) for bug in watched.bugs] == ["The thread 'chores_0' has ended while the station runs."]


def test_an_orderly_closing_is_told_and_a_hanging_one_ended(
    watched: Watched, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    watched.begin()
    watched.seconds(5)
    watched.dog.closing()
    told = watched.seconds(int(CLOSING_S), "bench", "scale")
    assert told == ["STOPPING=1", *["WATCHDOG=1"] * int(CLOSING_S)]
    assert watched.left == []
    watched.seconds(1, "bench", "scale")
    assert watched.left == [HUNG]
    assert "not closed within 15 s" in caplog.text


def test_a_log_that_nobody_takes_does_not_keep_a_hanging_process(
    watched: Watched, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """The log's lock is held by a thread that waits for a full pipe; the watchdog would wait for that lock."""
    taken = threading.Event()
    monkeypatch.setattr(last_words, "_WITHIN_S", 0.01)
    monkeypatch.setattr(last_words.log, "log", lambda *_: taken.wait())
    watched.begin()
    watched.seconds(5)
    watched.seconds(31, "scale")
    taken.set()
    assert watched.left == [HUNG]


def test_threads_that_end_by_themselves_are_not_among_those_that_must_live() -> None:
    go = threading.Event()
    passing = [threading.Thread(target=go.wait, name=f"{name}-1") for name in PASSING]
    other = threading.Thread(target=go.wait, name="a new one")
    for thread in (*passing, other):
        thread.start()
    try:
        found = lasting()
    finally:
        go.set()
    assert other in found
    assert not set(passing) & set(found)


@pytest.mark.parametrize(
    ("environ", "within_s"),
    [
        ({}, None),
        ({"WATCHDOG_USEC": "15000000"}, 15.0),
        ({"WATCHDOG_USEC": "15000000", "WATCHDOG_PID": "7"}, 15.0),
        ({"WATCHDOG_USEC": "15000000", "WATCHDOG_PID": "8"}, None),
        ({"WATCHDOG_USEC": "0"}, None),
        ({"WATCHDOG_USEC": "soon"}, None),
    ],
)
def test_how_often_the_manager_wants_a_sign_of_life(environ: dict[str, str], within_s: float | None) -> None:
    assert notifier_of(environ, 7).within_s == within_s


def test_a_manager_that_is_gone_is_logged_once(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    gone = Notifier(str(tmp_path / "none"))
    gone.send("WATCHDOG=1")
    gone.send("WATCHDOG=1")
    assert len(caplog.records) == 1
    assert "No such file" in caplog.text


def test_its_own_thread_looks_by_itself_and_often_enough(tmp_path: Path) -> None:
    """What the manager asks for is kept three times over; the deadline only bounds the wait for a dead thread."""
    manager = Manager(str(tmp_path / "notify"))
    manager._socket.settimeout(10)
    turn = iter(range(10**9))
    dog = Watchdog(notifier_of({"NOTIFY_SOCKET": manager.address, "WATCHDOG_USEC": "300000"}, 1), ScriptedClock())
    dog.watch(Running([Pulse("all", lambda: next(turn), lambda: 1.0)], print, lambda: True, "Well.", ()))
    dog.start()
    try:
        assert manager._socket.recv(4096) == b"READY=1\nSTATUS=Well."
        assert [manager._socket.recv(4096) for _ in range(3)] == [b"WATCHDOG=1"] * 3
    finally:
        dog.stop()
        manager.close()
