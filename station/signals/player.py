"""Player: one thread that turns patterns into a buzzer going on and off. Callers never wait for it."""

from __future__ import annotations

import threading
from types import TracebackType
from typing import Protocol

from station.signals.patterns import Pattern


class Sounder(Protocol):
    """What can be on or off."""

    def on(self) -> None:
        """Sound."""
        ...

    def off(self) -> None:
        """Be silent."""
        ...


class Player:
    """A new cue replaces a running one; a held alarm goes on again after a cue."""

    def __init__(self, sounder: Sounder) -> None:
        self._sounder = sounder
        self._changed = threading.Condition()
        self._cue: Pattern = ()
        self._alarm: Pattern = ()
        self._version = 0
        self._ending = False
        self._thread = threading.Thread(target=self._run, name="buzzer")

    def cue(self, pattern: Pattern) -> None:
        """Play once, now."""
        with self._changed:
            self._cue = pattern
            self._version += 1
            self._changed.notify_all()

    def hold(self, pattern: Pattern) -> None:
        """Repeat this until told otherwise; the same again changes nothing."""
        with self._changed:
            if pattern == self._alarm:
                return
            self._alarm = pattern
            if not self._cue:
                self._version += 1
                self._changed.notify_all()

    def __enter__(self) -> Player:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._changed:
            self._ending = True
            self._version += 1
            self._changed.notify_all()
        self._thread.join()

    def _run(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._ending or self._cue or self._alarm)
                if self._ending:
                    break
                playing_cue, version = bool(self._cue), self._version
                pattern = self._cue or self._alarm
            played = self._play(pattern, version)
            with self._changed:
                # Only the cue that was played out is done; a newer one has its turn.
                if playing_cue and played and version == self._version:
                    self._cue = ()
        self._sounder.off()

    def _play(self, pattern: Pattern, version: int) -> bool:
        """Whether it was played to its end."""
        for on_s, off_s in pattern:
            self._sounder.on()
            broken = self._interrupted(version, on_s)
            self._sounder.off()
            if broken or self._interrupted(version, off_s):
                return False
        return True

    def _interrupted(self, version: int, seconds: float) -> bool:
        with self._changed:
            return self._changed.wait_for(lambda: self._version != version, seconds)
