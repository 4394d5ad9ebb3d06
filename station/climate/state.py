"""The climate at the bench as one frozen value: what is known, from whom, since when, and what is wrong."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.moment import Moment, gap_s
from station.texts import number, t

OLD_AFTER_S = 4 * 3600.0
"""A typed temperature says little about the air four hours later (ours, no source)."""


class Source(Enum):
    """Who tells the temperature."""

    ONE_WIRE = "the temperature sensor"
    HUMIDITY_SENSOR = "the humidity sensor"
    TYPED = "typed"
    SETTINGS = "the settings"
    NOBODY = "nobody"


@dataclass(frozen=True, slots=True)
class Typed:
    """A temperature that a person has read off and typed; `by` is None for the one in the settings."""

    celsius: float
    at: Moment
    by: str | None

    @property
    def source(self) -> Source:
        """Who told it."""
        return Source.SETTINGS if self.by is None else Source.TYPED


@dataclass(frozen=True, slots=True)
class Climate:
    """Temperature in °C and relative humidity in percent, None when unknown, each with the moment it was true.

    `where` says in words who tells the temperature. `troubles` are sentences. `typed` waits for the sensor to fall
    silent, or is what counts.
    """

    celsius: float | None = None
    source: Source = Source.NOBODY
    where: str = ""
    at: Moment | None = None
    humidity_percent: float | None = None
    humidity_at: Moment | None = None
    troubles: tuple[str, ...] = ()
    typed: Typed | None = None

    def seen(self, now: Moment) -> Seen:
        """The same for a reader at `now`."""
        age_s, humidity_age_s = _age_s(self.at, now), _age_s(self.humidity_at, now)
        by_hand = self.source in (Source.TYPED, Source.SETTINGS)
        waiting = ""
        if self.typed is not None and not by_hand:
            waiting = t(
                "{celsius} °C, {by}, counts when the sensor falls silent.",
                celsius=number(self.typed.celsius, ".1f"),
                by=_by(self.typed),
            )
        return Seen(
            celsius=self.celsius,
            where=self.where,
            age_s=age_s,
            humidity_percent=self.humidity_percent,
            humidity_age_s=humidity_age_s,
            old=_old(self.typed, age_s) if by_hand else "",
            troubles=self.troubles,
            waiting=waiting,
        )


@dataclass(frozen=True, slots=True)
class Seen:
    """The climate for a reader: ages in seconds instead of moments; `old` and `waiting` are sentences or empty."""

    celsius: float | None
    where: str
    age_s: float | None
    humidity_percent: float | None
    humidity_age_s: float | None
    old: str
    troubles: tuple[str, ...]
    waiting: str


def of_typed(typed: Typed | None) -> Climate:
    """The climate when no sensor tells anything."""
    if typed is None:
        return Climate()
    return Climate(typed.celsius, typed.source, _by(typed), typed.at, typed=typed)


def _by(typed: Typed) -> str:
    return t("from the settings") if typed.by is None else t("typed on {by}", by=typed.by)


def _age_s(at: Moment | None, now: Moment) -> float | None:
    return None if at is None else gap_s(at, now)


def _old(typed: Typed | None, age_s: float | None) -> str:
    if typed is None or (age_s is not None and age_s <= OLD_AFTER_S):
        return ""
    if typed.by is None:
        return t("It is a fixed value from the settings. Read a thermometer at the bench and type what it says.")
    return t("It is more than four hours old. Read the thermometer at the bench again and type what it says.")
