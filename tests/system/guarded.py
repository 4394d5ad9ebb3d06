"""A whole station on the machine's own clock, its watchdog, and hands that wake, kill and stop single threads of it."""

from __future__ import annotations

import contextlib
import ctypes
import re
import socket
import threading
import urllib.request
from pathlib import Path

import pytest
from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import Station, assembled
from station.clock import SystemClock
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.cues import Cue
from station.core.moment import Moment
from station.service import deaths_end
from station.simulated.pty_port import PtyPort
from station.starts import Safe
from station.watchdog.dog import Running, Watchdog
from station.watchdog.notify import Notifier
from tests.play import CARD

WITHIN_S = 60.0


class Killed(BaseException):
    """What a thread dies of here. Nothing in the station expects it."""


class GoneSocket(OSError):
    """What the web server's loop takes for its end."""

    def __init__(self) -> None:
        super().__init__(9, "Bad file descriptor")


class StoppingClock(SystemClock):
    """A clock that keeps the threads named in `held` until `go` is set, as a hang would."""

    def __init__(self) -> None:
        super().__init__()
        self.held: set[str] = set()
        self.go = threading.Event()

    def now(self) -> Moment:
        if threading.current_thread().name in self.held:
            assert self.go.wait(WITHIN_S)
        return super().now()


class Guarded:
    """The station as the service runs it, in a thread called "bench". A bug that no test asks for ends the test."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch, safe: Safe | None = None) -> None:
        monkeypatch.setattr(threading, "excepthook", threading.excepthook)  # put back afterwards
        speaker = folder / "bin" / "espeak-ng"
        speaker.parent.mkdir()
        speaker.write_text("#!/bin/sh\nexec cat >/dev/null\n")
        speaker.chmod(0o755)
        monkeypatch.setenv("PATH", f"{speaker.parent}:/usr/bin:/bin")
        self.clock, self.safe = StoppingClock(), safe
        self.port = PtyPort(folder / "scale")
        self.pins = MockFactory(pin_class=MockPWMPin)
        self.settings = Settings(
            name="Test bench",
            state_dir=folder / "state",
            scale=ScaleSettings(port=str(self.port.path), family="status-commas", card=CARD),
            signals=SignalSettings(),
            climate=ClimateSettings(period_s=0.05),
            web=WebSettings("127.0.0.1", 0),
        )
        self.settings.state_dir.mkdir()
        self.manager = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.manager.bind(str(folder / "notify"))
        self.manager.settimeout(WITHIN_S)
        self.left: list[int] = []
        self.codes: list[str] = []
        self.dog = Watchdog(Notifier(str(folder / "notify"), 0.15), self.clock, self.left.append)
        self.station: Station
        self._bug: BaseException | None = None
        self._asked = False
        self.over = threading.Event()
        self._ready = threading.Event()
        self._thread = threading.Thread(target=self._life, name="bench")

    def _life(self) -> None:
        try:
            with assembled(
                self.settings, self.clock, pin_factory=self.pins, announce=self.codes.append, safe=self.safe
            ) as station:
                self.station = station
                deaths_end(station.inbox)
                self.dog.watch(Running(station.pulses, station.inbox.end, lambda: True, "Well."))
                self._ready.set()
                station.loop.run()
        except BaseException as bug:
            self._bug = bug
        finally:
            self.over.set()
            self._ready.set()

    def __enter__(self) -> Guarded:
        self.port.plug_in()
        self.dog.start()
        self._thread.start()
        assert self._ready.wait(WITHIN_S)
        if self.over.is_set() and self._bug is not None:
            raise self._bug
        return self

    def __exit__(self, *_: object) -> None:
        self.clock.go.set()
        self.station.inbox.end()
        self._thread.join(WITHIN_S)
        self.dog.stop()
        self.port.unplug()
        self.manager.close()
        assert not self._thread.is_alive()
        if self._bug is not None and not self._asked:
            raise self._bug

    @property
    def bug(self) -> BaseException | None:
        """What the station's loop ended with."""
        self._asked = True
        return self._bug

    def told(self) -> list[str]:
        """The manager's next message."""
        return self.manager.recv(4096).decode().split("\n")

    def fed(self) -> None:
        """Wait until the manager is told of life; messages from before do not count."""
        self.manager.setblocking(False)
        with contextlib.suppress(BlockingIOError):
            while True:
                self.manager.recv(4096)
        self.manager.settimeout(WITHIN_S)
        while "WATCHDOG=1" not in self.told():
            pass

    def threads(self) -> set[str]:
        """The kinds of threads that run; numbers do not count, nor do those of a browser test before this one."""
        names = {re.sub(r"[-\d]+$", "", thread.name) for thread in threading.enumerate()}
        return {name for name in names if not name.startswith("asyncio")}

    def kill(self, name: str, how: type[BaseException] = Killed) -> None:
        """Raise an exception in a thread, at the next line that it runs."""
        thread = next(thread for thread in threading.enumerate() if thread.name == name)
        assert thread.ident is not None
        done = ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread.ident), ctypes.py_object(how))
        assert done == 1

    def wake_all(self) -> None:
        """A cue with words, both contacts, a line of the scale, a visitor, a look at the chores."""
        self.station.panel.cue(Cue.ACCEPTED, "A accepted.")
        for number in (self.settings.signals.pedal, self.settings.signals.button):
            pin = self.pins.pin(number)
            pin.drive_low()
            pin.drive_high()
        self.port.emit(b"ST,+000000.0  g\r\n")
        with contextlib.suppress(OSError), urllib.request.urlopen(f"{self.station.url}static/icon.svg", timeout=0.5):
            pass
        for thread in threading.enumerate():
            if thread.name == "APScheduler":
                thread._target.__self__.wakeup()  # type: ignore[attr-defined]

    def ends(self) -> None:
        """Wake everybody until the loop has ended."""
        end_s = SystemClock().now().boot_s + WITHIN_S
        while not self.over.wait(0.02):
            assert SystemClock().now().boot_s < end_s, "the station lives on"
            self.wake_all()
