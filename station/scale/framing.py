"""Framing: whatever bytes arrived, in whatever pieces, cut into complete frames. No wire and no clock.

A frame that lost its head often reads as a plausible wrong number, so everything before the first ender
is thrown away, and so is what overflows; a frame counts only when its ender has come.
"""

from __future__ import annotations

from dataclasses import dataclass

LONGEST = 256
"""Bytes without an ender after which the framer gives up and looks for the next one."""


@dataclass(frozen=True, slots=True)
class Marks:
    """How a family marks its frames.

    Any byte of `enders` ends one, so CR, LF, CR LF and LF CR need no telling apart. A byte of `starters`
    begins one and drops an unfinished one. A byte of `singles` is a frame by itself where a frame may begin.
    """

    enders: bytes = b"\r\n"
    starters: bytes = b""
    singles: bytes = b""


class Framer:
    """Feed it whatever arrived; it returns the frames that became complete, without enders and never empty."""

    def __init__(self, marks: Marks, synced: bool = False) -> None:
        self._marks = marks
        self._synced = synced
        self._pending = bytearray()

    def feed(self, data: bytes) -> list[bytes]:
        """The frames completed by `data`. However the bytes are cut up, the frames are the same."""
        done: list[bytes] = []
        for byte in data:
            if byte in self._marks.enders:
                self._end(done)
            elif byte in self._marks.starters:
                self._pending.clear()
                self._synced = True
            elif self._synced:
                self._take(byte, done)
        return done

    def _end(self, done: list[bytes]) -> None:
        if self._pending:
            done.append(bytes(self._pending))
            self._pending.clear()
        self._synced = True

    def _take(self, byte: int, done: list[bytes]) -> None:
        if not self._pending and byte == 0:  # filler that some scales send before a line
            return
        if not self._pending and byte in self._marks.singles:
            done.append(bytes([byte]))
            return
        self._pending.append(byte)
        if len(self._pending) > LONGEST:
            self._pending.clear()
            self._synced = False
