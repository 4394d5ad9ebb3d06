"""What the sensors say now, once: for the command line and for whoever sets a station up."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.climate.believing import believed
from station.climate.faults import NoSensor, SensorFault
from station.climate.humidity import DEVICES, HumiditySensor
from station.climate.one_wire import BUS, OneWire
from station.config import ClimateSettings
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Report:
    """One look at everything: °C and percent, None where nothing tells them, and sentences about what is wrong."""

    sensors: tuple[str, ...]
    celsius: float | None
    humidity_percent: float | None
    at_humidity_sensor_c: float | None
    typed_c: float | None
    troubles: tuple[str, ...]

    @property
    def counts_c(self) -> float | None:
        """The temperature that a station with these settings goes by now."""
        known = (self.celsius, self.at_humidity_sensor_c, self.typed_c)
        return next((celsius for celsius in known if celsius is not None), None)


def look_once(
    settings: ClimateSettings, typed_c: float | None = None, *, bus: Path = BUS, devices: Path = DEVICES
) -> Report:
    """Look at the sensors of the settings. Raises nothing: troubles are part of the report."""
    troubles: list[str] = []
    wire, air = OneWire(settings.sensor, bus), HumiditySensor(devices)
    celsius = humidity = at_humidity = None
    if settings.sensor != "none":
        try:
            celsius = believed(wire.look, None)
        except SensorFault as fault:
            troubles.append(fault.sentence())
    if settings.humidity:
        try:
            humidity = air.look()
            at_humidity = None if settings.sensor == "none" else believed(air.look_at_temperature, None)
        except NoSensor:
            pass  # it need not be there, nor tell a temperature
        except SensorFault as fault:
            troubles.append(fault.sentence())
    return Report(wire.listed(), celsius, humidity, at_humidity, typed_c, tuple(troubles))


def climate_words(
    settings: ClimateSettings, typed_c: float | None = None, *, bus: Path = BUS, devices: Path = DEVICES
) -> tuple[str, ...]:
    """The same as sentences, the temperature that counts first."""
    return said(look_once(settings, typed_c, bus=bus, devices=devices))


def said(report: Report) -> tuple[str, ...]:
    """A report as sentences."""
    lines = []
    if report.celsius is not None:
        celsius = number(report.celsius, ".1f")
        lines.append(t("Temperature: {celsius} °C, from the temperature sensor.", celsius=celsius))
    elif report.at_humidity_sensor_c is not None:
        celsius = number(report.at_humidity_sensor_c, ".1f")
        lines.append(t("Temperature: {celsius} °C, from the humidity sensor.", celsius=celsius))
    elif report.typed_c is not None:
        celsius = number(report.typed_c, ".1f")
        lines.append(t("Temperature: {celsius} °C, from the settings.", celsius=celsius))
    else:
        lines.append(t("Temperature: not known."))
    if report.humidity_percent is not None:
        lines.append(t("Humidity: {percent} %.", percent=number(report.humidity_percent, ".0f")))
    return (*lines, *report.troubles)
