"""Conducting a search: its wishes done on a real port and put to a real person."""

from __future__ import annotations

from typing import Protocol

from station.ports import TimeSource
from station.scale.bit7 import FORMATS
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.search import Search
from station.scale.finding.wishes import Answer, AskShown, Confirm, Listen, Query, Tell, Wish
from station.scale.port import Port

_SLICE_S = 0.5


class Person(Protocol):
    """Whoever stands at the scale, behind a terminal or a page. Each call may raise what ends the search."""

    def told(self, words: str) -> None:
        """Say what is going on or what to do."""
        ...

    def stays(self) -> None:
        """Called again and again while something is waited for; raises when the person has left."""
        ...

    def confirms(self, question: str) -> bool | None:
        """Yes, no, or None for nobody there."""
        ...

    def reads(self, question: str) -> str | None:
        """What the display shows, as typed."""
        ...


class Conductor:
    """Does one search's wishes. Raises what the port raises when it goes away."""

    def __init__(self, port: Port, person: Person, clock: TimeSource) -> None:
        self._port = port
        self._person = person
        self._clock = clock

    def conduct(self, search: Search) -> Profile | NotFound:
        """Run the search to its end."""
        answer: Answer = None
        while True:
            try:
                wish = search.send(answer)
            except StopIteration as end:
                found: Profile | NotFound = end.value
                return found
            answer = self._done(wish)

    def _done(self, wish: Wish) -> Answer:
        self._person.stays()
        match wish:
            case Listen():
                self._port.tune(wish.baud, FORMATS[wish.character])
                return self._heard(wish.seconds)
            case Query():
                character = FORMATS[wish.character]
                self._port.tune(wish.baud, character)
                self._port.write(character.sent(wish.data))
                return self._heard(wish.seconds)
            case Tell():
                self._person.told(wish.words)
                return None
            case Confirm():
                return self._person.confirms(wish.question)
            case AskShown():
                return self._person.reads(wish.question)

    def _heard(self, seconds: float) -> bytes:
        data = bytearray()
        end_s = self._clock.now().boot_s + seconds
        while (left := end_s - self._clock.now().boot_s) > 0:
            data += self._port.read(min(left, _SLICE_S))
            self._person.stays()
        return bytes(data)
