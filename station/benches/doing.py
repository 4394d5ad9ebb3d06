"""Doing: errands that other benches sent here, handed to this bench's inbox as acknowledgements, and their answers.

An alarm is acknowledged by this bench's own loop, as if a person had asked at its own page. An answer is kept until the
shared log has it, so that an errand is handed in once even if the log forgets that it was told.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from concurrent.futures import TimeoutError as NoAnswer
from dataclasses import dataclass
from typing import Final

from station.core.clocks import ClockKind
from station.core.messages import Acknowledge
from station.core.snapshot import Snapshot
from station.errors import StationError
from station.neighbours import Errand, ErrandState
from station.texts import t

Hand = Callable[[Acknowledge], "Future[int | None]"]
ANSWER_WITHIN_S: Final = 1.0


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of an errand."""

    key: str
    state: ErrandState
    words: str


class Doing:
    """Hands errands to the inbox, each once in the life of this process. For one thread."""

    def __init__(self, hand: Hand, seen: Callable[[], Snapshot | None]) -> None:
        self._hand, self._seen = hand, seen
        self._handed: dict[str, tuple[Errand, Future[int | None]]] = {}
        self._answers: dict[str, Answer] = {}

    def take(self, errands: tuple[Errand, ...]) -> None:
        """Hand in those that have not been; one that an earlier run took (state TAKEN) is only looked after."""
        for errand in errands:
            if errand.key in self._handed or errand.key in self._answers:
                continue
            if errand.state is ErrandState.TAKEN:
                self._answers[errand.key] = self._looked_after(errand)
            else:
                self._handed[errand.key] = errand, self._hand(Acknowledge(errand.number, errand.clock, errand.by))

    def answers(self) -> tuple[Answer, ...]:
        """Answers that the shared log has not yet; waits a moment for the bench."""
        for key, (errand, future) in list(self._handed.items()):
            try:
                future.result(ANSWER_WITHIN_S)
            except NoAnswer:
                continue
            except StationError as refusal:
                self._answers[key] = Answer(key, ErrandState.REFUSED, refusal.sentence())
            else:
                words = t("Cast {number}: acknowledged.", number=errand.number)
                self._answers[key] = Answer(key, ErrandState.DONE, words)
            del self._handed[key]
        return tuple(self._answers.values())

    def told(self, answers: tuple[Answer, ...]) -> None:
        """The shared log has these now."""
        for answer in answers:
            self._answers.pop(answer.key, None)

    def _looked_after(self, errand: Errand) -> Answer:
        """After a restart nobody knows whether it was handed in: what the bench shows now is the answer."""
        if self._sounds(errand.number, errand.clock):
            words = t("That bench was started anew just then and its alarm still sounds: ask again.")
            return Answer(errand.key, ErrandState.REFUSED, words)
        words = t("Cast {number}: the alarm no longer sounds.", number=errand.number)
        return Answer(errand.key, ErrandState.DONE, words)

    def _sounds(self, number: int, clock: ClockKind) -> bool:
        seen = self._seen()
        return seen is None or any((alarm.number, alarm.clock) == (number, clock) for alarm in seen.alarms)
