"""What the station knows of the day and of the bench: evidence for the time, and the temperature."""

from __future__ import annotations

from collections.abc import Iterator

from station.climate.humidity import DEVICES
from station.climate.one_wire import BUS
from station.climate.report import Report, look_once
from station.doctor.finding import Finding, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.probe import below
from station.texts import number, t


def time(patient: Patient) -> Iterator[Finding]:
    """Whether there is evidence for the machine's wall time."""
    now = patient.now
    shown = f"{now.wall:%Y-%m-%d %H:%M}"
    if now.trusted:
        yield passed(t("It is {now} UTC; a time service was heard, or a battery clock agrees.", now=shown))
        return
    cure = t("Connect it to a network with a time server, fit a battery clock, or set the time on the page Time.")
    if patient.station.life is Life.RUNS:
        cure = t(
            "Look at the page Time: what somebody has set there only the station knows. Else connect it to a network "
            "with a time server, or fit a battery clock."
        )
    yield look(
        t("This machine says {now} UTC, but has heard no time server. Clocks run right all the same.", now=shown), cure
    )


def climate(patient: Patient) -> Iterator[Finding]:
    """What the sensors at the bench say now."""
    settings = patient.known
    bus, devices = below(patient.probe, BUS), below(patient.probe, DEVICES)
    report = look_once(settings.climate, settings.temperature_c, bus=bus, devices=devices)
    told = " ".join((*_climate_words(report), *report.troubles))
    if report.troubles:
        yield look(told, names=report.sensors)
    elif report.counts_c is None:
        yield look(told, t("Type it on the page Climate, or fit a sensor (hardware/README.md)."))
    else:
        yield passed(told)


def _climate_words(report: Report) -> Iterator[str]:
    """What counts at the bench now, in sentences."""
    match report:
        case Report(celsius=float(celsius)):
            yield t("The temperature sensor says {celsius} °C.", celsius=number(celsius, ".1f"))
        case Report(at_humidity_sensor_c=float(celsius)):
            yield t("The humidity sensor says {celsius} °C.", celsius=number(celsius, ".1f"))
        case Report(typed_c=float(celsius)):
            yield t("By the settings it has {celsius} °C at the bench.", celsius=number(celsius, ".1f"))
        case _:
            yield t("The temperature at the bench is not known: no sensor tells it and nobody has typed it.")
    if report.humidity_percent is not None:
        yield t("The humidity sensor says {percent} %.", percent=f"{report.humidity_percent:.0f}")
