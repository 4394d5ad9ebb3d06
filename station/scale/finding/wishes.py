"""What a search may wish of the world: to listen, to send a harmless query, to tell and to ask the person. Pure."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Listen:
    """Set the port, drop what lies in it, and answer with the bytes of the next `seconds`."""

    baud: int
    character: str
    seconds: float


@dataclass(frozen=True, slots=True)
class Query:
    """Send `data` and answer with the bytes of the next `seconds`. Only queries of the harmless list may be wished
    for."""

    baud: int
    character: str
    data: bytes
    seconds: float


@dataclass(frozen=True, slots=True)
class Tell:
    """Say what is being done."""

    words: str


@dataclass(frozen=True, slots=True)
class Confirm:
    """Ask a question; the answer is True, False, or None when nobody answers."""

    question: str


@dataclass(frozen=True, slots=True)
class AskShown:
    """Ask what the scale's display shows now; the answer is the text typed, or None."""

    question: str


Wish = Listen | Query | Tell | Confirm | AskShown
Answer = bytes | bool | str | None
