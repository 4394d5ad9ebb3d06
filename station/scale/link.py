"""ScaleLink: the one thread that owns the scale's port. Lines in, readings and troubles out, nothing else.

Losing the port is a message and finding it again is another; whatever else goes wrong ends the whole station,
because a page that shows a stale weight is worse than a restart. How old a reading may be is judged by
the bench from its moment; a silent scale makes this thread silent.
"""

from __future__ import annotations

import os
import select
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import TracebackType

from station.config import ScaleSettings
from station.core.messages import NoLoad, Reading, ScaleFound, ScaleLost
from station.errors import ScaleFault
from station.inbox import Inbox
from station.ports import TimeSource
from station.scale.bit7 import FORMATS
from station.scale.check import check
from station.scale.finding.profiles import Profiles
from station.scale.finding.score import ACCEPT, hearing_of
from station.scale.listening import Listening
from station.scale.port import GONE, Port, open_port
from station.scale.reasons import is_local, why_not
from station.texts import t

RECENT = 600
"""Bytes kept to see what a stream looks like that has stopped making sense."""

PATIENCE_S = 1.0
"""Longest wait of the thread for a byte; `progress` rises at least that often while the thread is well."""

LOCAL_SILENCE_S = 12.0
NETWORK_SILENCE_S = 60.0
"""How long `progress` may stand still. A network that is down may hold up the look for a machine's name that long."""


class ScaleLink:
    """Posts Reading, NoLoad, ScaleFound and ScaleLost into the inbox from `start` (or `with`) to `stop`.

    Raises SettingsError for an unknown family, character format or unit, and for a port or a bit rate that
    cannot be. `retry_s` is the wait between tries to open the port. With `profiles`, the port may be the one found
    last. While `pouring`, a changed unit is not taken.
    """

    def __init__(
        self,
        settings: ScaleSettings,
        inbox: Inbox,
        clock: TimeSource,
        retry_s: float = 1.0,
        *,
        profiles: Profiles | None = None,
        pouring: Callable[[], bool] = lambda: False,
    ) -> None:
        check(settings)
        self._asked_for = settings
        self._profiles = profiles
        self._pouring = pouring
        self._inbox = inbox
        self._clock = clock
        self._retry_s = retry_s
        self._stopping = threading.Event()
        self._borrowed = threading.Event()
        self._lent = threading.Lock()
        self._thread = threading.Thread(target=self._run, name="scale")
        self._wake_r, self._wake_w = -1, -1
        self._said: str | None = None
        self._progress = 0
        self._silence_s = LOCAL_SILENCE_S

    @property
    def progress(self) -> int:
        """A count that rises while the thread is well, scale or no scale; for a watchdog."""
        return self._progress

    @property
    def silence_s(self) -> float:
        """For how many seconds `progress` may stand still, with the port that is in use now."""
        return self._silence_s

    def start(self) -> None:
        """Begin. A link is started once."""
        self._wake_r, self._wake_w = os.pipe()
        self._thread.start()

    def stop(self) -> None:
        """End the thread and let go of the port; returns when that is done. May be called again."""
        self._stopping.set()
        if self._wake_w < 0:
            return
        self._wake()
        self._thread.join()
        os.close(self._wake_r)
        os.close(self._wake_w)
        self._wake_r, self._wake_w = -1, -1

    def _forget_waking(self) -> None:
        """What woke the thread before has been done; only then may it sleep again."""
        while not self._stopping.is_set() and select.select([self._wake_r], [], [], 0)[0]:
            os.read(self._wake_r, 64)

    def _wake(self) -> None:
        if self._wake_w >= 0:
            os.write(self._wake_w, b"!")

    def __enter__(self) -> ScaleLink:
        self.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.stop()

    @contextmanager
    def lent(self) -> Iterator[None]:
        """Let go of the port while somebody else looks for a scale; afterwards the newest profile is in force."""
        self._borrowed.set()
        self._wake()
        with self._lent:
            try:
                yield
            finally:
                self._borrowed.clear()

    def _run(self) -> None:
        try:
            while not self._stopping.is_set():
                if self._borrowed.is_set():
                    self._lost(t("The scale is being looked for or checked, begun from the page. Weighing waits."))
                elif self._lent.acquire(blocking=False):  # lent since we looked: never wait for an errand's end
                    try:
                        self._forget_waking()
                        self._connect()
                    finally:
                        self._lent.release()
                self._progress += 1
                self._stopping.wait(self._retry_s)
        except BaseException as bug:
            self._inbox.end(bug)

    def _connect(self) -> None:
        """Open the port and serve it until it is lost or we stop."""
        try:
            settings = self._in_force()
            self._silence_s = LOCAL_SILENCE_S if is_local(settings.port) else NETWORK_SILENCE_S
            port = open_port(settings.port, settings.baud, FORMATS[settings.character], self._wake_r)
        except ScaleFault as fault:
            self._lost(fault.sentence())
            return
        try:
            self._said = None
            self._inbox.post(ScaleFound(settings.port), self._clock.now())
            self._serve(port, settings)
        except GONE as gone:
            self._lost(why_not(settings.port, gone).sentence())
        finally:
            # At once: while it stays open, the device comes back under another name.
            port.close()

    def _in_force(self) -> ScaleSettings:
        if self._profiles is None:
            return self._asked_for
        return self._profiles.in_force(self._asked_for)

    def _lost(self, sentence: str) -> None:
        """Say so once, and again only when the reason changes."""
        if sentence != self._said:
            self._said = sentence
            self._inbox.post(ScaleLost(sentence), self._clock.now())

    def _serve(self, port: Port, settings: ScaleSettings) -> None:
        listening = Listening(port, settings, self._clock, self._pouring)
        recent = b""
        while not self._stopping.is_set() and not self._borrowed.is_set():
            self._progress += 1
            heard = listening.turn(PATIENCE_S)
            recent = (recent + heard.data)[-RECENT:]
            if heard.doubt is not None:
                if heard.doubt not in (self._said or ""):
                    self._lost(f"{heard.doubt}{likely(recent, settings)}")
                continue
            if not heard.messages:
                continue
            recent = b""  # what looks like something else begins after the last line that made sense
            if self._said is not None:
                # What makes sense again is a scale of which nothing is known: the cup must be recognised anew.
                self._said = None
                self._inbox.post(ScaleFound(settings.port), heard.at)
            for message in newest(heard.messages):
                self._inbox.post(message, heard.at)


def likely(recent: bytes, settings: ScaleSettings) -> str:
    """What doubted bytes look like instead, as a further sentence; empty when they look like nothing known.

    The new family is only named, never taken: what the display shows must be confirmed by a person.
    """
    heard = hearing_of(recent, synced=True)
    best = heard.best
    if best is None or heard.score < ACCEPT or best.spec.id == settings.family:
        return ""
    return " " + t("At this bit rate the lines look like {family} now.", family=best.spec.id)


def newest(messages: list[Reading | NoLoad]) -> list[Reading | NoLoad]:
    """Of all that lay in the port, the last load and the last trouble, in the order in which they came.

    Older loads say nothing about now; a trouble between two loads is worth knowing.
    """
    if len(messages) < 2:
        return messages
    last = {type(message): place for place, message in enumerate(messages)}
    return [messages[place] for place in sorted(last.values())]
