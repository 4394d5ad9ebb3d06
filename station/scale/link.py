"""ScaleLink: the one thread that owns the scale's port. Lines in, readings and troubles out, nothing else.

Losing the port is a message and finding it again is another; whatever else goes wrong ends the whole station,
because a page that shows a stale weight is worse than a restart. How old a reading may be is judged by
the bench from its moment; a silent scale makes this thread silent.
"""

from __future__ import annotations

import os
import threading
from types import TracebackType

from station.config import ScaleSettings
from station.core.messages import NoLoad, Reading, ScaleFound, ScaleLost
from station.errors import ScaleFault
from station.inbox import Inbox
from station.ports import TimeSource
from station.scale.asking import Asking
from station.scale.bit7 import FORMATS
from station.scale.check import check
from station.scale.decoder import Decoder, ShapeGuard
from station.scale.families import family_named
from station.scale.port import GONE, Port, open_port
from station.scale.reasons import why_not

PATIENCE_S = 1.0
"""Longest wait of the thread for a byte; `progress` rises at least that often while the thread is well."""


class ScaleLink:
    """Posts Reading, NoLoad, ScaleFound and ScaleLost into the inbox from `start` (or `with`) to `stop`.

    Raises SettingsError for an unknown family, character format or unit, and for a port or a bit rate that
    cannot be. `retry_s` is the wait between tries to open the port.
    """

    def __init__(self, settings: ScaleSettings, inbox: Inbox, clock: TimeSource, retry_s: float = 1.0) -> None:
        check(settings)
        self._spec = family_named(settings.family)
        self._character = FORMATS[settings.character]
        self._settings = settings
        self._inbox = inbox
        self._clock = clock
        self._retry_s = retry_s
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._run, name="scale")
        self._wake_r, self._wake_w = -1, -1
        self._said: str | None = None
        self._progress = 0

    @property
    def progress(self) -> int:
        """A count that rises while the thread is well, scale or no scale; for a watchdog."""
        return self._progress

    def start(self) -> None:
        """Begin. A link is started once."""
        self._wake_r, self._wake_w = os.pipe()
        self._thread.start()

    def stop(self) -> None:
        """End the thread and let go of the port; returns when that is done. May be called again."""
        self._stopping.set()
        if self._wake_w < 0:
            return
        os.write(self._wake_w, b"!")
        self._thread.join()
        os.close(self._wake_r)
        os.close(self._wake_w)
        self._wake_r, self._wake_w = -1, -1

    def __enter__(self) -> ScaleLink:
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.stop()

    def _run(self) -> None:
        try:
            while not self._stopping.is_set():
                self._connect()
                self._progress += 1
                self._stopping.wait(self._retry_s)
        except BaseException as bug:
            self._inbox.end(bug)

    def _connect(self) -> None:
        """Open the port and serve it until it is lost or we stop."""
        try:
            port = open_port(self._settings.port, self._settings.baud, self._character, self._wake_r)
        except ScaleFault as fault:
            self._lost(fault)
            return
        try:
            self._said = None
            self._inbox.post(ScaleFound(self._settings.port), self._clock.now())
            self._serve(port)
        except GONE as gone:
            self._lost(why_not(self._settings.port, gone))
        finally:
            # At once: while it stays open, the device comes back under another name.
            port.close()

    def _lost(self, fault: ScaleFault) -> None:
        """Say so once, and again only when the reason changes."""
        sentence = fault.sentence()
        if sentence != self._said:
            self._said = sentence
            self._inbox.post(ScaleLost(sentence), self._clock.now())

    def _serve(self, port: Port) -> None:
        request = self._spec.request
        asking = None if request is None else Asking(self._character.sent(request), self._settings.poll_s)
        decoder, guard = Decoder(self._spec, synced=request is not None), ShapeGuard()
        while not self._stopping.is_set():
            self._progress += 1
            data = port.read(self._ask(port, asking))
            at = self._clock.now()
            frames = decoder.feed(self._character.read(data))
            if frames and asking is not None:
                asking.heard()
            messages = [m for frame in frames if (m := guard.message(frame, self._settings.unit)) is not None]
            for message in newest(messages):
                self._inbox.post(message, at)

    def _ask(self, port: Port, asking: Asking | None) -> float:
        """Send the request when it is due; how long to listen after that."""
        if asking is None:
            return PATIENCE_S
        now_s = self._clock.now().boot_s
        if asking.due_in(now_s) <= 0:
            port.write(asking.request)
            asking.sent(now_s)
        return min(PATIENCE_S, asking.due_in(now_s))


def newest(messages: list[Reading | NoLoad]) -> list[Reading | NoLoad]:
    """Of all that lay in the port, the last load and the last trouble, in the order in which they came.

    Older loads say nothing about now; a trouble between two loads is worth knowing.
    """
    last = {type(message): place for place, message in enumerate(messages)}
    return [messages[place] for place in sorted(last.values())]
