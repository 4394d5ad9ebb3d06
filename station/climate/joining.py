"""Of several who may tell the temperature, which one counts: the sensor, the humidity sensor's own, a person's."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from station.climate.readings import Readings
from station.climate.state import Climate, Source, Typed, of_typed
from station.texts import t


@dataclass(frozen=True, slots=True)
class Heard:
    """What has been heard: `wire` and `air` tell °C, `air` at the humidity sensor; `humidity` tells percent."""

    wire: Readings = field(default_factory=Readings)
    air: Readings = field(default_factory=Readings)
    humidity: Readings = field(default_factory=Readings)


def joined(heard: Heard, typed: Typed | None, wire_words: str) -> Climate:
    """The climate that follows. A sensor counts before a person: it looks again and again."""
    if heard.wire.value is not None:
        climate = Climate(heard.wire.value, Source.ONE_WIRE, wire_words, heard.wire.at, typed=typed)
    elif heard.air.value is not None:
        climate = Climate(
            heard.air.value, Source.HUMIDITY_SENSOR, t("from the humidity sensor"), heard.air.at, typed=typed
        )
    else:
        climate = of_typed(typed)
    return replace(
        climate,
        humidity_percent=heard.humidity.value,
        humidity_at=None if heard.humidity.value is None else heard.humidity.at,
        troubles=_troubles(heard),
    )


def _troubles(heard: Heard) -> tuple[str, ...]:
    """A sensor that never was there is missed only when no other tells the temperature."""
    said = []
    if not (heard.wire.never_there and heard.air.value is not None):
        said.append(heard.wire.trouble)
    if not heard.humidity.never_there:
        said.append(heard.humidity.trouble)
    if not heard.air.never_there:
        said.append(heard.air.trouble)
    return tuple(dict.fromkeys(sentence for sentence in said if sentence))
