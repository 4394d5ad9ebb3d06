"""Framers for the families that do not end their frames by a mark: by length, by what follows, or by an echo in
front."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from station.scale.framing import Cut, Framer, MarkFramer, Marks

Split = Callable[[bytes, bool], int | None]
"""How many bytes of a buffer that begins with the head are one frame: 0 not yet known, None no frame begins here.
The flag says that nothing more will come."""


@dataclass(frozen=True, slots=True)
class HeadRule:
    """A frame begins with the byte `head` and is as long as `split` says; `singles` are frames where none is open."""

    head: int
    split: Split
    singles: bytes = b""


class HeadFramer:
    """A framer for families whose frames begin with a head byte and end by length or by the next head."""

    def __init__(self, rule: HeadRule, _synced: bool = False) -> None:
        self._rule = rule
        self._pending = bytearray()
        self._begin = 0

    def feed(self, data: bytes) -> list[Cut]:
        """See `Framer`."""
        self._pending += data
        return self._cut(final=False)

    def quiet(self) -> list[Cut]:
        """See `Framer`."""
        return self._cut(final=True)

    @property
    def open(self) -> bool:
        """See `Framer`."""
        return bool(self._pending)

    def rest(self) -> list[Cut]:
        """See `Framer`."""
        done = self._cut(final=True)
        if self._pending:
            done.append(Cut(self._begin, bytes(self._pending), whole=False))
            self._drop(len(self._pending))
        return done

    def _cut(self, final: bool) -> list[Cut]:
        done: list[Cut] = []
        while self._pending:
            if self._pending[0] in self._rule.singles:
                done.append(Cut(self._begin, bytes(self._pending[:1])))
                self._drop(1)
            elif self._pending[0] != self._rule.head or (size := self._rule.split(bytes(self._pending), final)) is None:
                self._drop(1)  # the middle of a frame whose head is lost: look for the next head
            elif size == 0:
                break
            else:
                done.append(Cut(self._begin, bytes(self._pending[:size])))
                self._drop(size)
        return done

    def _drop(self, count: int) -> None:
        del self._pending[:count]
        self._begin += count


def after_length(length: int, tail: bytes) -> Split:
    """Frames of exactly `length` bytes that end in `tail`."""

    def split(data: bytes, _final: bool) -> int | None:
        if len(data) < length:
            return 0
        return length if data[:length].endswith(tail) else None

    return split


def until_head(head: int, lengths: tuple[int, ...], followers: bytes = b"") -> Split:
    """Frames of one of `lengths` (the longest first), complete when the next head, a follower or silence comes.

    Any other byte after the longest one shows that a byte came in between, so that no place can be trusted.
    """
    longest = lengths[0]

    def split(data: bytes, final: bool) -> int | None:
        following = data.find(head, 1, longest)
        if following > 0:
            return following if following in lengths else None
        if len(data) <= longest:
            return len(data) if final and len(data) == longest else 0
        return longest if data[longest] == head or data[longest] in followers else None

    return split


def mirrored(head: int, lengths: tuple[int, ...]) -> Split:
    """`until_head` for printable text: an ender inside spoils the frame, one after it does not."""
    plain = until_head(head, lengths, b"\r\n")

    def split(data: bytes, final: bool) -> int | None:
        return None if any(byte in b"\r\n" for byte in data[: lengths[0]]) else plain(data, final)

    return split


def carriage_return_and_check(length: int, check: Callable[[bytes], int]) -> Split:
    """Frames of `length` bytes up to a CR, and a check byte after it where one is sent.

    The byte that follows is the check when its value is right or when it can be nothing else; a head or a line
    end that follows belongs to no check.
    """

    def split(data: bytes, final: bool) -> int | None:
        if len(data) < length:
            return 0
        if data[length - 1] != 0x0D:
            return None
        if len(data) == length:
            return length if final else 0
        following = data[length]
        plain = following in b"\r\n" or following == data[0]
        return length if plain and following != check(data[:length]) else length + 1

    return split


class EchoFramer:
    """Lines, where a line that is but the echo of a request is kept until its answer has come and put in front of
    it."""

    def __init__(self, is_echo: Callable[[bytes], bool], synced: bool = False) -> None:
        self._lines: Framer = MarkFramer(Marks(), synced)
        self._is_echo = is_echo
        self._echo: Cut | None = None

    def feed(self, data: bytes) -> list[Cut]:
        """See `Framer`."""
        return self._joined(self._lines.feed(data))

    def quiet(self) -> list[Cut]:
        """See `Framer`."""
        return []

    @property
    def open(self) -> bool:
        """See `Framer`."""
        return self._echo is not None or self._lines.open

    def rest(self) -> list[Cut]:
        """See `Framer`."""
        done = self._joined(self._lines.rest())
        if self._echo is not None:
            done.append(self._echo)
            self._echo = None
        return done

    def _joined(self, cuts: list[Cut]) -> list[Cut]:
        done: list[Cut] = []
        for cut in cuts:
            if self._echo is not None:
                done.append(Cut(self._echo.begin, self._echo.body + b"\r\n" + cut.body, cut.whole))
                self._echo = None
            elif cut.whole and self._is_echo(cut.body):
                self._echo = cut
            else:
                done.append(cut)
        return done


class MirrorFramer:
    """`=` frames without an ender, and lines between them."""

    def __init__(self, rule: HeadRule, synced: bool = False) -> None:
        self._frames = HeadFramer(rule)
        self._lines = MarkFramer(Marks(starters=bytes([rule.head])), synced)
        self._head = rule.head

    def feed(self, data: bytes) -> list[Cut]:
        """See `Framer`."""
        lines = [cut for cut in self._lines.feed(data) if cut.body[0] != self._head]
        return sorted(self._frames.feed(data) + lines)

    def quiet(self) -> list[Cut]:
        """See `Framer`."""
        return self._frames.quiet()

    @property
    def open(self) -> bool:
        """See `Framer`."""
        return self._frames.open

    def rest(self) -> list[Cut]:
        """See `Framer`."""
        lines = [cut for cut in self._lines.rest() if cut.body[0] != self._head]
        return sorted(self._frames.rest() + lines)
