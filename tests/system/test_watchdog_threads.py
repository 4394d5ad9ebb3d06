"""A thread that dies takes the station with it, and its name is said: each thread in turn, by an exception put into it.

The exception is raised in the thread from outside, at the next line that it runs, so no thread needs to know of its
test. What wakes the threads is what wakes them in life: cues, presses, visitors, lines of the scale.
"""

from __future__ import annotations

import io
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from apscheduler.events import EVENT_JOB_ERROR

from station.config import ScaleSettings
from station.confined import asking
from station.core.messages import Tick
from station.desk import Desk, Tools
from station.housekeeping import housekeeping
from station.inbox import End, Inbox
from station.mesh import survey as surveying
from station.scale.checks import Checks
from station.scale.finding.profiles import Profiles
from station.scale.link import ScaleLink
from station.service import deaths_end
from station.testing import ScriptedClock
from station.watchdog.threads import ThreadEnded
from tests.mesh.bodies import box, stl
from tests.system.guarded import WITHIN_S, GoneSocket, Guarded, Killed

LASTING = {
    "record",
    "scale",
    "climate",
    "push",
    "buzzer",
    "press",
    "voice",
    "web",
    "waitress",
    "APScheduler",
    "watchdog",
}
EACH = [
    "record",
    "scale",
    "climate",
    "buzzer",
    "press",
    "voice",
    "web",
    "waitress-0",
    "waitress-63",
    "APScheduler",
    "push",
    "watchdog",
]


@pytest.fixture
def guarded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Guarded]:
    with Guarded(tmp_path, monkeypatch) as guarded:
        yield guarded


def test_these_are_all_threads_of_a_station(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {thread.name for thread in threading.enumerate()}
    with Guarded(tmp_path, monkeypatch) as guarded:
        # The thread of the chores begins with the first of them, perhaps only after this look.
        assert guarded.threads() - before - {"chores_"} == LASTING | {"bench"}


@pytest.mark.parametrize("name", EACH)
def test_the_death_of_a_thread_ends_the_station_with_its_name(
    guarded: Guarded, name: str, caplog: pytest.LogCaptureFixture
) -> None:
    guarded.kill(name)
    guarded.ends()
    assert isinstance(guarded.bug, Killed)
    assert f"Told by the thread '{name}'." in guarded.bug.__notes__


def test_a_thread_that_ends_without_a_word_is_missed(guarded: Guarded, caplog: pytest.LogCaptureFixture) -> None:
    guarded.kill("web", GoneSocket)
    guarded.ends()
    assert isinstance(guarded.bug, ThreadEnded)
    assert "'web'" in str(guarded.bug)
    assert "web server ended" in caplog.text


def test_without_a_death_the_station_goes_on_and_is_fed(guarded: Guarded) -> None:
    for _ in range(20):
        guarded.wake_all()
        guarded.fed()
    assert not guarded.over.is_set()
    assert guarded.left == []


def next_end(inbox: Inbox) -> BaseException:
    while not isinstance(taken := inbox.next(WITHIN_S), End):
        assert not isinstance(taken.message, Tick), "nobody ended the loop"
    assert taken.bug is not None
    return taken.bug


def test_a_bug_in_an_errand_ends_the_station(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("station.desk.find", broken)
    inbox = Inbox(ScriptedClock())
    deaths_end(inbox)
    settings, clock = ScaleSettings(str(tmp_path / "port"), "status-commas"), ScriptedClock()
    link, profiles, checks = ScaleLink(settings, inbox, clock), Profiles(tmp_path), Checks(tmp_path)
    desk = Desk(Tools(settings, link, clock, profiles, checks, lambda: False, lambda: None))
    desk.find(str(tmp_path / "port"))
    bug = next_end(inbox)
    assert isinstance(bug, ZeroDivisionError)
    assert "Told by the thread 'errand'." in bug.__notes__


def test_a_bug_in_the_limit_of_a_measuring_ends_the_station(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(asking, "_too_late", broken)
    inbox = Inbox(ScriptedClock())
    deaths_end(inbox)
    surveying.survey(io.BytesIO(stl(*box())), "part.stl", wall_s=0.001)
    assert "Told by the thread 'measuring limit'." in next_end(inbox).__notes__


def test_a_bug_in_a_chore_ends_the_station_with_the_name_of_the_chore(tmp_path: Path) -> None:
    def broken() -> None:
        raise ZeroDivisionError

    inbox = Inbox(ScriptedClock())
    with housekeeping(inbox.end) as chores:
        chores.add_job(broken, id="sweep the floor")
        bug = next_end(inbox)
    assert isinstance(bug, ZeroDivisionError)
    assert "It was met by the chore 'sweep the floor'." in bug.__notes__


def test_a_disk_that_does_not_do_its_part_is_no_bug_of_a_chore(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    after = threading.Event()

    def unplugged() -> None:
        raise OSError("no such device")

    bugs: list[BaseException] = []
    with housekeeping(bugs.append) as chores:
        chores.add_listener(lambda _: after.set(), EVENT_JOB_ERROR)  # told after the station's own
        chores.add_job(unplugged, id="look at the disk")
        assert after.wait(WITHIN_S)
    assert bugs == []
    assert "look at the disk" in caplog.text
