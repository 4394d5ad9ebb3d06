"""The kernel's files of sensors at a bench, written into a folder: a stand-in for /sys with readings and faults."""

from __future__ import annotations

import shutil
from pathlib import Path

SENSOR = "28-0316a2795cff"
"""An invented sensor."""


class ClimateFiles:
    """`bus` and `devices` are to be used in place of the kernel's folders. Nothing is plugged in at first."""

    def __init__(self, root: Path) -> None:
        self.bus, self.devices = root / "w1", root / "iio"
        (self.bus / "w1_bus_master1").mkdir(parents=True, exist_ok=True)
        self.devices.mkdir(parents=True, exist_ok=True)

    def celsius(self, value: float, sensor: str = SENSOR) -> None:
        """The one-wire sensor shows this temperature."""
        self.says(f"{round(value * 1000)}\n".encode(), sensor)

    def says(self, content: bytes, sensor: str = SENSOR, file: str = "temperature") -> None:
        """The one-wire sensor's file holds just this."""
        _put(self.bus / sensor / file, content)

    def older_kernel(self, value: float, sensor: str = SENSOR, *, matches: bool = True) -> None:
        """The sensor as a kernel without the file `temperature` shows it, whether or not its check digits match."""
        octets = "50 05 4b 46 7f ff 0c 10 1c"
        lines = f"{octets} : crc=1c {'YES' if matches else 'NO'}\n{octets} t={round(value * 1000)}\n"
        (self.bus / sensor / "temperature").unlink(missing_ok=True)
        self.says(lines.encode(), sensor, "w1_slave")

    def supply_failed(self, sensor: str = SENSOR) -> None:
        """The sensor shows what it holds before its first measurement."""
        self.celsius(85.0, sensor)

    def silent(self, sensor: str = SENSOR) -> None:
        """The sensor is off and still listed."""
        self.says(b"", sensor)

    def unplugged(self, sensor: str = SENSOR) -> None:
        """The sensor is listed no longer."""
        shutil.rmtree(self.bus / sensor, ignore_errors=True)

    def ghost(self) -> None:
        """An open data line, read as a sensor that is none."""
        (self.bus / "00-400000000000").mkdir(exist_ok=True)

    def humidity(self, percent: float, celsius: float | None = None, device: int = 0) -> None:
        """A humidity sensor shows this, with a temperature of its own or without."""
        folder = self.devices / f"iio:device{device}"
        _put(folder / "in_humidityrelative_input", f"{round(percent * 1000)}\n".encode())
        if celsius is not None:
            _put(folder / "in_temp_input", f"{round(celsius * 1000)}\n".encode())

    def no_humidity(self, device: int = 0) -> None:
        """The humidity sensor is taken away."""
        shutil.rmtree(self.devices / f"iio:device{device}", ignore_errors=True)


def _put(place: Path, content: bytes) -> None:
    """Replaced in one go, so that a reader never sees half of it."""
    place.parent.mkdir(parents=True, exist_ok=True)
    half = place.with_name(f".{place.name}")
    half.write_bytes(content)
    half.replace(place)
