"""The humidity sensor, as the kernel's industrial-I/O drivers show one: thousandths of a percent and of a degree."""

from __future__ import annotations

from pathlib import Path

from station.climate.faults import NoSensor, OutsideWorkshop, SeveralSensors
from station.climate.kernel_file import text_of
from station.climate.one_wire import checked, whole

DEVICES = Path("/sys/bus/iio/devices")
HUMIDITY = "in_humidityrelative_input"
TEMPERATURE = "in_temp_input"
WHAT = "The humidity sensor"


class HumiditySensor:
    """The only device that has a file for relative humidity."""

    def __init__(self, devices: Path = DEVICES) -> None:
        self._devices = devices

    def look(self) -> float:
        """Relative humidity in percent. Raises SensorFault; NoSensor where there is none, which is no trouble."""
        try:
            percent = whole(text_of(self._only() / HUMIDITY, WHAT), WHAT) / 1000
        except FileNotFoundError:
            raise NoSensor("The humidity sensor has just been taken away.") from None
        if not 1 <= percent <= 100:
            raise OutsideWorkshop(f"{WHAT} shows {percent:.1f} %; air has 1 to 100 %.")
        return percent

    def look_at_temperature(self) -> float:
        """The temperature at the humidity sensor in °C. Raises SensorFault; NoSensor where it has none."""
        try:
            return checked(whole(text_of(self._only() / TEMPERATURE, WHAT), WHAT), WHAT)
        except FileNotFoundError:
            raise NoSensor("The humidity sensor tells no temperature.") from None

    def _only(self) -> Path:
        try:
            found = sorted(
                p for p in self._devices.iterdir() if p.name.startswith("iio:device") and (p / HUMIDITY).exists()
            )
        except OSError:
            found = []
        if not found:
            raise NoSensor(
                "There is no humidity sensor.", "If there was one, look at its wires and at its line in config.txt."
            )
        if len(found) > 1:
            raise SeveralSensors(
                f"There are {len(found)} humidity sensors: {', '.join(p.name for p in found)}.",
                "Leave the one at the bench plugged in.",
            )
        return found[0]
