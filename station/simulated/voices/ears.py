"""How a simulated scale takes in requests: where one ends, which give a reading, which would do harm."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum

from station.simulated.voices.load import Load, Say, just

Reply = Callable[[bytes, Load], bytes]
ESC = b"\x1b"
WEIGHING = frozenset(b"T t Z z R r U u M m K k L l C c X x".split())
"""Single letters that somewhere tare, zero, change the unit or mode, hold, cancel or switch off."""


class Ends(Enum):
    """Where a request ends."""

    CR_LF = "with both CR and LF; with one alone it goes on"
    CR = "with CR; LF is no matter"
    LF_TO_CR = "begins with LF and ends with CR; anything outside is ignored"
    EACH = "each byte is one, or two when the first is a lead"


def _silence(_load: Load) -> bytes:
    return b""


@dataclass(frozen=True, slots=True)
class Ears:
    """What each request does. `queries` are no reading; `harmful` ones get their answer from there, else `obeyed`."""

    ends: Ends = Ends.EACH
    now: frozenset[bytes] = frozenset()
    when_stable: frozenset[bytes] = frozenset()
    moving: bytes = b""
    """Said at once to a request for a stable load while it moves."""
    waits: bool = True
    """Whether the load follows later in that case."""
    queries: Mapping[bytes, Say] = field(default_factory=dict)
    harmful: frozenset[bytes] = frozenset()
    obeyed: bytes = b""
    harmful_while_streaming: frozenset[bytes] = frozenset()
    unknown: Say = _silence
    lead: bytes = ESC
    reply: Reply | None = None
    """The reading as an answer, where it differs from an unasked line."""

    def harms(self, request: bytes, streaming: bool) -> bool:
        """Whether this request changes how the scale weighs, prints or lives."""
        asked = request in self.now or request in self.when_stable or request in self.queries
        if streaming and request in self.harmful_while_streaming:
            return True
        return request in self.harmful or (self.ends is not Ends.EACH and request in WEIGHING and not asked)

    def requests(self, data: bytes) -> tuple[list[bytes], bytes]:
        """The requests that `data` completes, and what is left of it."""
        if self.ends is Ends.EACH:
            return self._bytes(data)
        if self.ends is Ends.CR_LF:
            *lines, rest = data.split(b"\r\n")
            # A CR that may be half of the end stays in the rest; control characters (ENQ) are nothing in a line.
            return [text for line in lines if (text := _printing(line))], rest
        *lines, rest = data.split(b"\r")
        if self.ends is Ends.CR:
            return [text for line in lines if (text := _printing(line).strip(b"\n"))], rest
        return [text for line in lines if b"\n" in line and (text := _printing(line.rpartition(b"\n")[2]))], rest

    def _bytes(self, data: bytes) -> tuple[list[bytes], bytes]:
        found, at = [], 0
        while at < len(data):
            size = 2 if data[at : at + 1] == self.lead else 1
            if at + size > len(data):
                break
            found.append(data[at : at + size])
            at += size
        return found, data[at:]


def _printing(line: bytes) -> bytes:
    return bytes(byte for byte in line if byte >= 0x20 or byte in b"\r\n\x1b")


def words(text: str) -> frozenset[bytes]:
    """Requests written with blanks between them; `~` stands for ESC and `_` for a blank inside."""
    return frozenset(word.replace("~", "\x1b").replace("_", " ").encode() for word in text.split())


def silent() -> Ears:
    """A scale without a receiver, or one that nobody has documented."""
    return Ears()


def answering(*texts: tuple[bytes, bytes]) -> Mapping[bytes, Say]:
    """Queries with answers that never change."""
    return {request: just(answer) for request, answer in texts}
