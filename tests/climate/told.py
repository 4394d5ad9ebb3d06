"""What a look at a sensor comes to: a reading, or the sentence of its fault; anything else is a bug and passes."""

from __future__ import annotations

from collections.abc import Callable

from station.climate.faults import SensorFault


def told(look: Callable[[], float]) -> float | str:
    """The reading or the sentence."""
    try:
        return look()
    except SensorFault as fault:
        return fault.sentence()


def fit(answer: float | str, least: float, most: float) -> bool:
    """Whether a reading lies between the two, or a sentence can be shown."""
    if isinstance(answer, str):
        return answer.endswith(".") and answer.isprintable()
    return least <= answer <= most
