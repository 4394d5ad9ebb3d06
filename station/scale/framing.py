"""Framing: whatever bytes arrived, in whatever pieces, cut into complete frames. No wire and no clock.

A frame that lost its head often reads as a plausible wrong number, so everything before the first ender
is thrown away, and so is what overflows; a frame counts only when its ender has come.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple, Protocol

LONGEST = 256
"""Bytes without an ender after which the framer gives up and looks for the next one."""


_FILLER = b"\0"
"""Sent by some scales before a line."""


class Cut(NamedTuple):
    """One frame's `body`, its ender taken off; `begin` counts the bytes before it. Not `whole`: its ender is
    missing."""

    begin: int
    body: bytes
    whole: bool = True


class Framer(Protocol):
    """Cuts one connection's bytes. However they are cut up on the way in, the frames are the same."""

    def feed(self, data: bytes) -> list[Cut]:
        """The frames completed by `data`, never empty ones."""
        ...

    def quiet(self) -> list[Cut]:
        """The line fell silent: the frame that silence completes, if the family has such."""
        ...

    @property
    def open(self) -> bool:
        """Whether bytes of an unfinished frame lie here."""
        ...

    def rest(self) -> list[Cut]:
        """A recording ended: like `quiet`, and what else is left over as a cut that is not whole."""
        ...


@dataclass(frozen=True, slots=True)
class Marks:
    """How a family marks its frames.

    Any byte of `enders` ends one, so CR, LF, CR LF and LF CR need no telling apart. A byte of `starters`
    begins one, is its first byte, and drops an unfinished one. A byte of `singles` is a frame by itself where a
    frame may begin. A frame that `alone` matches is complete without an ender once the line is silent.
    """

    enders: bytes = b"\r\n"
    starters: bytes = b""
    singles: bytes = b""
    alone: re.Pattern[bytes] | None = None


class MarkFramer:
    """A framer for families that mark where a frame ends."""

    def __init__(self, marks: Marks, synced: bool = False) -> None:
        self._marks = marks
        self._parts = _parts(marks)
        self._synced = synced
        self._pending = bytearray()
        self._seen = 0

    def feed(self, data: bytes) -> list[Cut]:
        """See `Framer`."""
        done: list[Cut] = []
        for part in self._parts.findall(data):
            if part in self._marks.enders:
                self._end(done)
            elif part in self._marks.starters:
                self._pending[:] = part
                self._synced = True
            elif self._synced:
                self._take(part, done)
            self._seen += len(part)
        return done

    def quiet(self) -> list[Cut]:
        """See `Framer`."""
        done: list[Cut] = []
        if self._marks.alone is not None and self._marks.alone.fullmatch(self._pending):
            self._end(done)
        return done

    @property
    def open(self) -> bool:
        """See `Framer`."""
        return bool(self._pending)

    def rest(self) -> list[Cut]:
        """See `Framer`."""
        done = self.quiet()
        if self._pending:
            done.append(Cut(self._seen - len(self._pending), bytes(self._pending), whole=False))
            self._pending.clear()
        return done

    def _end(self, done: list[Cut]) -> None:
        if self._pending.lstrip(self._marks.starters):  # a starter alone is no frame
            done.append(Cut(self._seen - len(self._pending), bytes(self._pending)))
        self._pending.clear()
        self._synced = True

    def _take(self, part: bytes, done: list[Cut]) -> None:
        if not self._pending and part == _FILLER:
            return
        if not self._pending and part in self._marks.singles:
            done.append(Cut(self._seen, part))
            return
        self._pending += part
        if len(self._pending) > LONGEST:
            self._pending.clear()
            self._synced = False


def _parts(marks: Marks) -> re.Pattern[bytes]:
    """Cuts bytes into marks, each by itself, and what lies between them, which needs no look at each byte."""
    of_marks = re.escape(marks.enders + marks.starters + marks.singles + _FILLER)
    return re.compile(b"[^" + of_marks + b"]+|[" + of_marks + b"]")
