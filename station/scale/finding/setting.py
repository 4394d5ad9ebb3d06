"""One setting of the port in a search: what was heard at it, and how it is listened and asked. Pure."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace

from station.scale.bit7 import Bit7
from station.scale.finding.queries import wait_for
from station.scale.finding.score import Hearing, hearing_of
from station.scale.finding.wishes import Answer, Listen, Query, Wish

REAL_PARITY = ("8O1",)
"""Parity errors are passed on, so 8E1 is read just as well; odd is what scales with eight data bits usually have."""

_FORMAT_OF = {Bit7.DATA: "8N1", Bit7.EVEN: "7E1", Bit7.ODD: "7O1", Bit7.ONE: "7N2"}
_POLL_S = 0.5


@dataclass(frozen=True, slots=True)
class Heard:
    """What one setting gave; `query` is what was sent for it."""

    baud: int
    hearing: Hearing
    data: bytes
    character: str = ""
    query: bytes | None = None

    @property
    def format(self) -> str:
        """The character format: the one set, or what bit 7 shows."""
        best = self.hearing.best
        binary = best is not None and best.spec.eight_bit
        return self.character or ("8N1" if binary else _FORMAT_OF[self.hearing.bit7])


def listen(baud: int, seconds: float, character: str = "8N1") -> Generator[Wish, Answer, bytes]:
    """What comes unasked in `seconds`."""
    answer = yield Listen(baud, character, seconds)
    return answer if isinstance(answer, bytes) else b""


def put(baud: int, character: str, query: bytes) -> Generator[Wish, Answer, Heard]:
    """Put one question, and what came of it."""
    answer = yield Query(baud, character, query, wait_for(query))
    data = answer if isinstance(answer, bytes) else b""
    heard = Heard(baud, hearing_of(data, synced=True), data, query=query)
    return replace(heard, character=character) if character in REAL_PARITY else heard


def sampled(heard: Heard, seconds: float) -> Generator[Wish, Answer, bytes]:
    """What comes in `seconds`, asked for again and again where the scale must be asked."""
    if heard.query is None:
        return (yield from listen(heard.baud, seconds, heard.character or "8N1"))
    data = b""
    for _ in range(max(2, round(seconds / _POLL_S))):
        answer = yield Query(heard.baud, heard.character or heard.format, heard.query, _POLL_S)
        data += answer if isinstance(answer, bytes) else b""
    return data
