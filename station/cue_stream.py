"""The cue stream: every cue and each change of the pace as a line of JSON, for programs on this computer.

A socket in the file system that the station's user alone can open. Each line holds `at_s` (boot-time seconds), `wall`
(UTC), and `cue`: the name of a cue with its `words`, or PACE with `pace` from 0 (pour freely) to 1 (the thinnest
stream), null while no pour is led. Whoever connects is told the present pace first; who does not read is let go.
"""

from __future__ import annotations

import contextlib
import json
import logging
import socket
import threading
from collections.abc import Iterator, Sequence
from pathlib import Path

from station.core.cues import Cue, Urgency
from station.ports import Signals, TimeSource

log = logging.getLogger("tarebell.cues")

FILE = "cues.socket"
MOST_LISTENERS = 8


class CueStream:
    """Implements `ports.Signals` before another one: passes all on to it first, then tells whoever listens."""

    def __init__(self, signals: Signals, clock: TimeSource) -> None:
        self._signals, self._clock = signals, clock
        self._lock = threading.Lock()
        self._pace: float | None = None
        self._listeners: list[socket.socket] = []
        self._socket: socket.socket | None = None
        self._place: Path | None = None

    def cue(self, cue: Cue, words: str) -> None:
        """Sound it, and tell of it."""
        self._signals.cue(cue, words)
        with self._lock:
            self._tell({"cue": cue.name, "words": words})

    def hold(self, urgency: Urgency) -> None:
        """Pass it on."""
        self._signals.hold(urgency)

    def pace(self, pace: float | None) -> None:
        """Tick it, and tell of it when it changes."""
        self._signals.pace(pace)
        with self._lock:
            if pace != self._pace:
                self._pace = pace
                self._tell({"cue": "PACE", "pace": pace})

    def lamps(self, ready: bool, busy: bool, attention: bool) -> None:
        """Pass it on."""
        self._signals.lamps(ready, busy, attention)

    @contextlib.contextmanager
    def opened(self, folders: Sequence[Path]) -> Iterator[None]:
        """Listen in the first of `folders` that takes a socket; where none does, the bench goes on without."""
        for folder in folders:
            try:
                self._socket, self._place = _bound(folder / FILE), folder / FILE
            except OSError as why:
                log.warning("no cue stream place=%s why=%s", folder / FILE, why)
            else:
                break
        thread = threading.Thread(target=self._run, name="cue stream")
        if self._socket is not None:
            thread.start()
        try:
            yield
        finally:
            if self._socket is not None and self._place is not None:
                with contextlib.suppress(OSError):
                    self._socket.shutdown(socket.SHUT_RDWR)
                thread.join()
                self._socket.close()
                self._place.unlink(missing_ok=True)
            with self._lock:
                while self._listeners:
                    self._listeners.pop().close()

    def _run(self) -> None:
        assert self._socket is not None
        while True:
            try:
                listener, _ = self._socket.accept()
            except OSError:
                return  # shut
            listener.setblocking(False)
            with self._lock:
                if len(self._listeners) >= MOST_LISTENERS:
                    listener.close()
                    continue
                self._listeners.append(listener)
                self._send(listener, self._line({"cue": "PACE", "pace": self._pace}))

    def _tell(self, what: dict[str, object]) -> None:
        if self._listeners:
            line = self._line(what)
            for listener in list(self._listeners):
                self._send(listener, line)

    def _line(self, what: dict[str, object]) -> bytes:
        now = self._clock.now()
        return json.dumps({"at_s": round(now.boot_s, 4), "wall": now.wall.isoformat(), **what}).encode() + b"\n"

    def _send(self, listener: socket.socket, line: bytes) -> None:
        """All of a line or none of it: a listener whose buffer is full would make the bench wait, so it goes."""
        try:
            whole = listener.send(line) == len(line)
        except OSError:
            whole = False
        if not whole:
            self._listeners.remove(listener)
            listener.close()


def _bound(place: Path) -> socket.socket:
    """A listening socket at the place, with its rights before it has its name."""
    beside = place.with_name(f".{place.name}.new")
    beside.unlink(missing_ok=True)
    made = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    try:
        made.bind(str(beside))
        beside.chmod(0o600)
        made.listen(MOST_LISTENERS)
        beside.replace(place)
    except OSError:
        made.close()
        raise
    return made
