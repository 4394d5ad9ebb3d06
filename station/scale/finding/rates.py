"""The bit rate of a scale that talks unasked: every rate is listened at until one makes sense. Pure."""

from __future__ import annotations

from collections.abc import Generator

from station.scale.finding.score import ACCEPT, ENOUGH, hearing_of
from station.scale.finding.setting import REAL_PARITY, Heard, listen
from station.scale.finding.wishes import Answer, Tell, Wish
from station.texts import number, t

RATE_S = 1.2
"""How long each rate is listened at."""

_LONGER_S = 4.0
REFUSE = 0.2
_PATIENT_RATES = 3


def talking_rate(rates: tuple[int, ...], first: bytes) -> Generator[Wish, Answer, Heard | None]:
    """The setting at which the stream makes sense, or None.

    Read without parity, 8E1 and 8O1 come through with framing errors on most receivers; some take the parity bit for
    the next start bit, so real parity is tried last.
    """
    for character in ("8N1", *REAL_PARITY):
        best = yield from _best_rate(rates, first if character == "8N1" else None, character)
        if best is not None:
            yield Tell(
                t(
                    "It speaks at {baud} baud, {character} (score {score} of 1).",
                    baud=best.baud,
                    character=best.format,
                    score=number(best.hearing.score, ".2f"),
                )
            )
            return best
    return None


def _best_rate(rates: tuple[int, ...], first: bytes | None, character: str) -> Generator[Wish, Answer, Heard | None]:
    real = character if character in REAL_PARITY else ""
    tried: list[Heard] = []
    for baud in rates:
        given = first if baud == rates[0] else None
        data = given if given is not None else (yield from listen(baud, RATE_S, character))
        tried.append(Heard(baud, hearing_of(data), data, real))
        tried.sort(key=_promise)
        if _sure(tried):
            break
    for place in range(min(_PATIENT_RATES, len(tried))):
        if _sure(tried):
            break
        more = yield from listen(tried[place].baud, _LONGER_S, character)
        tried[place] = Heard(tried[place].baud, hearing_of(more), more, real)
    best = min(tried, key=_promise)
    if best.hearing.best is None or best.hearing.score < REFUSE or not best.hearing.best.loads:
        return None
    return best


def _promise(heard: Heard) -> tuple[float, float]:
    return -heard.hearing.score, -heard.hearing.likeness


def _sure(tried: list[Heard]) -> bool:
    best = tried[0].hearing
    frames = 0 if best.best is None else len(best.best.frames)
    runner_up = tried[1].hearing.score if len(tried) > 1 else 0.0
    return best.score >= ACCEPT and frames >= ENOUGH and runner_up < REFUSE
