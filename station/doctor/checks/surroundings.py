"""What the station knows of the day and of the bench: evidence for the time, and the temperature."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from station.climate.humidity import DEVICES
from station.climate.one_wire import BUS
from station.climate.report import look_once, said
from station.doctor.finding import Finding, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.probe import below
from station.texts import t


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
    places = {"bus": below(patient.probe, Path(BUS)), "devices": below(patient.probe, Path(DEVICES))}
    report = look_once(settings.climate, settings.temperature_c, **places)
    if report.troubles:
        yield look(" ".join(said(report)), names=report.sensors)
    elif report.counts_c is None:
        yield look(
            t("The temperature at the bench is not known: no sensor tells it and nobody has typed it."),
            t("Type it on the page Climate, or fit a sensor (hardware/README.md)."),
        )
    else:
        yield passed(" ".join(said(report)))
