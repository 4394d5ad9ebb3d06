"""The humidity sensor, as the kernel's industrial-I/O drivers show one: thousandths of a percent and of a degree."""

from __future__ import annotations

from pathlib import Path

from station.climate.faults import NoSensor, OutsideWorkshop, SeveralSensors
from station.climate.kernel_file import text_of
from station.climate.one_wire import checked, whole
from station.texts import N_, number, t

DEVICES = Path("/sys/bus/iio/devices")
HUMIDITY = "in_humidityrelative_input"
TEMPERATURE = "in_temp_input"
WHAT = N_("The humidity sensor")


class HumiditySensor:
    """The only device that has a file for relative humidity."""

    def __init__(self, devices: Path = DEVICES) -> None:
        self._devices = devices

    def look(self) -> float:
        """Relative humidity in percent. Raises SensorFault; NoSensor where there is none, which is no trouble."""
        try:
            what = t(WHAT)
            percent = whole(text_of(self._only() / HUMIDITY, what), what) / 1000
        except FileNotFoundError:
            raise NoSensor(t("The humidity sensor has just been taken away.")) from None
        if not 1 <= percent <= 100:
            raise OutsideWorkshop(
                t("The humidity sensor shows {percent} %; air has 1 to 100 %.", percent=number(percent, ".1f"))
            )
        return percent

    def look_at_temperature(self) -> float:
        """The temperature at the humidity sensor in °C. Raises SensorFault; NoSensor where it has none."""
        try:
            what = t(WHAT)
            return checked(whole(text_of(self._only() / TEMPERATURE, what), what), what)
        except FileNotFoundError:
            raise NoSensor(t("The humidity sensor tells no temperature.")) from None

    def _only(self) -> Path:
        try:
            found = sorted(
                p for p in self._devices.iterdir() if p.name.startswith("iio:device") and (p / HUMIDITY).exists()
            )
        except OSError:
            found = []
        if not found:
            raise NoSensor(
                t("There is no humidity sensor."),
                t("If there was one, look at its wires and at its line in config.txt."),
            )
        if len(found) > 1:
            raise SeveralSensors(
                t(
                    "There are {count} humidity sensors: {names}.",
                    count=len(found),
                    names=", ".join(p.name for p in found),
                ),
                t("Leave the one at the bench plugged in."),
            )
        return found[0]
