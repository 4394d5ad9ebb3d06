"""ClimateDesk: what the page needs of the temperature and humidity at the bench."""

from __future__ import annotations

from typing import Protocol


class ClimateSeen(Protocol):
    """The climate at one moment: °C, percent and seconds, None when unknown; the rest are sentences or empty."""

    @property
    def celsius(self) -> float | None:
        """Temperature at the bench."""
        ...

    @property
    def where(self) -> str:
        """Who tells it: "from the temperature sensor", "typed on …"."""
        ...

    @property
    def age_s(self) -> float | None:
        """How long ago it was read or typed."""
        ...

    @property
    def humidity_percent(self) -> float | None:
        """Relative humidity."""
        ...

    @property
    def humidity_age_s(self) -> float | None:
        """How long ago that was read."""
        ...

    @property
    def old(self) -> str:
        """Said of a typed temperature that is old."""
        ...

    @property
    def troubles(self) -> tuple[str, ...]:
        """What is wrong with the sensors."""
        ...

    @property
    def waiting(self) -> str:
        """Said of a typed temperature that does not count while a sensor tells one."""
        ...


class ClimateDesk(Protocol):
    """The owner of the climate."""

    def seen(self) -> ClimateSeen:
        """The climate now."""
        ...

    def typed(self, celsius: float, by: str) -> None:
        """Take a temperature that a person has read off. Raises Refused when no workshop has it."""
        ...
