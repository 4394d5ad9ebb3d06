"""The temperature sensor on the one-wire bus, as the kernel's driver for family 28 shows it.

Each sensor is a folder named 28- and twelve hexadecimal digits. Its file `temperature` holds whole thousandths
of a degree; kernels before it have `w1_slave` alone: nine bytes with their check and YES or NO, then t= and the
same number. Opening either file makes the sensor measure, which takes up to 0.75 s.
"""

from __future__ import annotations

import re
from pathlib import Path

from station.climate.faults import (
    GarbledReading,
    Nonsense,
    NoSensor,
    OutsideWorkshop,
    PowerOnValue,
    SensorFault,
    SensorGone,
    SeveralSensors,
)
from station.climate.kernel_file import shown, text_of
from station.texts import number, t

BUS = Path("/sys/bus/w1/devices")
FOUND = "found"
LEAST_C, MOST_C = -20.0, 60.0
"""What a workshop may have (ours, no source)."""
POWER_ON = 85_000
_NAME = re.compile(r"28-[0-9a-f]{12}")
_WHOLE = re.compile(r"[+-]?[0-9]{1,7}")
_OLD_STYLE = re.compile(r"(?:[0-9a-f]{2} ){9}: crc=[0-9a-f]{2} (YES|NO)\s+(?:[0-9a-f]{2} ){9}t=([+-]?[0-9]{1,7})")


class OneWire:
    """One sensor: `sensor` is its name, or `found` for the only one on the bus."""

    def __init__(self, sensor: str = FOUND, bus: Path = BUS) -> None:
        self._sensor, self._bus = sensor, bus

    @property
    def words(self) -> str:
        """From whom the temperature is, for a person."""
        if self._sensor == FOUND:
            return t("from the temperature sensor")
        return t("from the temperature sensor {name}", name=self._sensor)

    def listed(self) -> tuple[str, ...]:
        """The names of all sensors on the bus."""
        return tuple(name for name in self._entries() if _NAME.fullmatch(name))

    def name(self) -> str:
        """The sensor that is read. Raises NoSensor or SeveralSensors."""
        listed = self.listed()
        if self._sensor != FOUND:
            if self._sensor in listed:
                return self._sensor
            said = t("The sensor {name} of the settings is not on the one-wire bus.", name=self._sensor)
            if listed:
                said += " " + t("The bus lists {names}.", names=", ".join(listed))
            raise NoSensor(said)
        if not listed:
            raise self._none()
        if len(listed) > 1:
            raise SeveralSensors(
                t(
                    "{count} temperature sensors are on the one-wire bus: {names}.",
                    count=len(listed),
                    names=", ".join(listed),
                ),
                t("Name the one at the bench in the settings: [climate] sensor. Warm one with a finger to tell them."),
            )
        return listed[0]

    def look(self) -> float:
        """The temperature now in °C, not yet compared with the one before. Raises SensorFault."""
        name = self.name()
        what = t("The temperature sensor {name}", name=name)
        return checked(self._thousandths(self._bus / name, what), what)

    def _thousandths(self, folder: Path, what: str) -> int:
        try:
            text = text_of(folder / "temperature", what)
        except FileNotFoundError:
            return self._old_style(folder, what)
        return whole(text, what)

    def _old_style(self, folder: Path, what: str) -> int:
        try:
            text = text_of(folder / "w1_slave", what)
        except FileNotFoundError:
            raise SensorGone(t("{what} is listed, but the kernel gives no file to read it.", what=what)) from None
        found = _OLD_STYLE.fullmatch(text)
        if found is None:
            raise _no_reading(what, text)
        if found.group(1) == "NO":
            # The number behind t= is then an old one or made of wrong bits.
            raise GarbledReading(t("{what} answered with check digits that do not match.", what=what))
        return int(found.group(2))

    def _entries(self) -> tuple[str, ...]:
        try:
            return tuple(sorted(entry.name for entry in self._bus.iterdir()))
        except OSError:
            return ()

    def _none(self) -> SensorFault:
        entries = self._entries()
        if not any(entry.startswith("w1_bus_master") for entry in entries):
            return NoSensor(
                t("There is no one-wire bus."),
                t(
                    "For a sensor, put dtoverlay=w1-gpio into /boot/firmware/config.txt and start again; "
                    "else type the temperature."
                ),
            )
        if any(entry.startswith("00-") for entry in entries):
            # Common practice, no source: an open data line reads as sensors of family 00 that come and go.
            return NoSensor(
                t("The one-wire bus shows sensors that are none (00-…)."),
                t("The pull-up resistor between data and 3.3 V is missing, or a wire is loose."),
            )
        return NoSensor(t("No temperature sensor answers on the one-wire bus."))


def whole(text: str, what: str) -> int:
    """A whole number as a kernel file holds it. Raises Nonsense."""
    if _WHOLE.fullmatch(text) is None:
        raise _no_reading(what, text)
    return int(text)


def _no_reading(what: str, text: str) -> Nonsense:
    return Nonsense(t("{what} gives {reading}, which is no reading.", what=what, reading=shown(text)))


def checked(thousandths: int, what: str) -> float:
    """°C of thousandths, when a workshop can have it. Raises PowerOnValue and OutsideWorkshop."""
    if thousandths == POWER_ON:
        # 85 °C stands in the sensor's memory when its supply comes on. When the supply drops out for a moment
        # during a measurement, that is what is read, and its check digits are right.
        raise PowerOnValue(t("{what} shows 85 °C, which it does after its supply failed.", what=what))
    celsius = thousandths / 1000
    if not LEAST_C <= celsius <= MOST_C:
        raise OutsideWorkshop(
            t(
                "{what} shows {celsius} °C; a workshop has {least} to {most} °C.",
                what=what,
                celsius=number(celsius, ".1f"),
                least=number(LEAST_C),
                most=number(MOST_C),
            )
        )
    return celsius
