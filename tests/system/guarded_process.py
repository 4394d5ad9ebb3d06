"""`tarebell run` as a process of its own, a manager that listens to it, and files by which it can be broken."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import threading
import urllib.request
from pathlib import Path
from typing import Any

from station.clock import SystemClock
from station.simulated.pty_port import PtyPort
from tests.ports import free_port

ROOT = Path(__file__).resolve().parents[2]
WITHIN_S = 60.0
PORT = free_port()

BREAKABLE = """
import threading
from pathlib import Path
import station.app, station.loop
from station.climate.watch import ClimateWatch
from station.watchdog import dog
here = Path({folder!r})
# A hang is noticed after a second, so that the test need not wait for half a minute.
station.app.BENCH_SILENCE_S = dog.TOO_LONG_S = dog.CLOSING_S = 1.0
handle, stop = station.loop.Loop.handle, ClimateWatch.stop
def breakable(self, envelope):
    if (here / "hang").exists():
        threading.Event().wait()
    if (here / "bug").exists():
        raise ZeroDivisionError("a bug for the test")
    handle(self, envelope)
def hanging(self):
    stop(self)
    if (here / "hang at the end").exists():
        threading.Event().wait()
station.loop.Loop.handle, ClimateWatch.stop = breakable, hanging
from station.cli import main
main(prog_name="tarebell")
"""


class Manager:
    """Starts the station as a service manager would, and hears what it tells."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.state = folder, folder / "state"
        self.scale = PtyPort(folder / "scale")
        self.scale.plug_in()
        self._socket = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self._socket.bind(str(folder / "notify"))
        self._socket.settimeout(WITHIN_S)
        self._environ = {**os.environ, "PYTHONPATH": str(ROOT), "NOTIFY_SOCKET": str(folder / "notify")}
        self._environ["WATCHDOG_USEC"] = "500000"
        self._settings = folder / "station.toml"
        self._settings.write_text(
            f'state_dir = "{self.state}"\n[scale]\nport = "{self.scale.path}"\nfamily = "status-commas"\n'
            f'[web]\nhost = "127.0.0.1"\nport = {PORT}\n[climate]\nsensor = "none"\nhumidity = false\n'
            "[signals]\nspeech = false\n"
        )
        self.said = ""
        self.run: subprocess.Popen[str] | None = None

    def __enter__(self) -> Manager:
        return self

    def __exit__(self, *_: object) -> None:
        if self.run is not None:
            self.kill()
        self._socket.close()
        self.scale.unplug()

    def start(self, *options: str, breakable: bool = False, alone: bool = False) -> None:
        """Start it, and wait until it says that it is ready; `alone`: without a word of the manager."""
        if alone:
            self._environ.pop("NOTIFY_SOCKET")
            self._environ.pop("WATCHDOG_USEC")
        how = ["-c", BREAKABLE.format(folder=str(self.folder))] if breakable else ["-m", "station"]
        self.log = (self.folder / "log").open("w")
        self.run = subprocess.Popen(
            [sys.executable, *how, "run", "--config", str(self._settings), *options],
            cwd=ROOT,
            stderr=self.log,
            text=True,
            env=self._environ,
        )
        self.before_ready: list[str] = []
        """What was told until it said that it is ready."""
        if not alone:
            self.hears("READY=1", self.before_ready)
        clock = SystemClock()
        end_s = clock.now().boot_s + WITHIN_S
        while "page url=" not in self.logged():
            assert clock.now().boot_s < end_s, self.logged()
            threading.Event().wait(0.05)

    def hears(self, what: str, before: list[str] | None = None) -> list[str]:
        """Wait until this is told; the message in which it was. What is told `before` goes there."""
        while True:
            try:
                message = self._socket.recv(4096).decode().split("\n")
            except TimeoutError:
                raise AssertionError(f"{what} was never told; the log: {self.logged()}") from None
            if what in message:
                return message
            if before is not None:
                before += message

    def told(self) -> list[str]:
        """All that has been told and not been heard yet."""
        self._socket.setblocking(False)
        lines: list[str] = []
        try:
            while True:
                lines += self._socket.recv(4096).decode().split("\n")
        except BlockingIOError:
            return lines
        finally:
            self._socket.settimeout(WITHIN_S)

    def logged(self) -> str:
        return (self.folder / "log").read_text()

    def kill(self) -> None:
        """kill -9; what it told before counts no more."""
        assert self.run is not None
        self.run.send_signal(signal.SIGKILL)
        self.run.wait(WITHIN_S)
        self._after()

    def stop(self) -> int:
        """An orderly stop; the exit code."""
        assert self.run is not None
        self.run.send_signal(signal.SIGTERM)
        return self.ended()

    def ended(self) -> int:
        """Wait for the end; the exit code."""
        assert self.run is not None
        code = self.run.wait(WITHIN_S)
        self._after()
        return code

    def _after(self) -> None:
        self.run = None
        self.log.close()
        self.last = self.told()

    def seen(self) -> dict[str, Any]:
        """What the page's script is told."""
        with urllib.request.urlopen(f"http://127.0.0.1:{PORT}/api/state", timeout=WITHIN_S) as answer:
            return dict(json.loads(answer.read()))

    def page(self, place: str = "/") -> str:
        with urllib.request.urlopen(f"http://127.0.0.1:{PORT}{place}", timeout=WITHIN_S) as answer:
            return str(answer.read().decode())
