"""Which checks there are, in the order in which they are made: what others rest on comes first."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from station.doctor.checks import (
    disk,
    network,
    pins,
    power,
    program,
    record,
    scale_port,
    service,
    settings_file,
    shared,
    surroundings,
)
from station.doctor.finding import Finding
from station.doctor.patient import Patient
from station.texts import N_

USUAL_S = 15.0
THOROUGH_S = 3600.0
"""Every row and photo of years, from a slow card."""


@dataclass(frozen=True, slots=True)
class Check:
    """One thing to look at. `key` never changes: programs go by it.

    It may take `within_s`, where what takes long is wanted too `thorough_s`. Without `bare` it is only made when the
    settings can be read.
    """

    key: str
    title: str
    act: Callable[[Patient], Iterable[Finding]]
    bare: bool = False
    within_s: float = USUAL_S
    thorough_s: float = USUAL_S


CHECKS = (
    Check("python", N_("Python"), program.python, bare=True),
    Check("program", N_("Program"), program.libraries, bare=True),
    Check("system", N_("System"), program.system, bare=True),
    Check("board", N_("Board"), program.board, bare=True),
    Check("supply", N_("Supply"), power.supply, bare=True),
    Check("heat", N_("Computer"), power.heat, bare=True),
    Check("settings", N_("Settings"), settings_file.settings, bare=True),
    Check("service", N_("Service"), service.service, bare=True),
    Check("crashes", N_("Crashes"), service.crash, bare=True),
    Check("scale", N_("Scale"), scale_port.scale_port),
    Check("pins", N_("Pins"), pins.pins, bare=True),
    Check("pin-map", N_("Pin map"), pins.pin_conflicts),
    Check("climate", N_("Climate"), surroundings.climate),
    Check("time", N_("Time"), surroundings.time, bare=True),
    Check("disk", N_("Disk"), disk.disk),
    Check("record", N_("Record"), record.record, thorough_s=THOROUGH_S),
    Check("backups", N_("Backups"), record.backups),
    Check("shared", N_("Benches"), shared.shared),
    Check("network", N_("Network"), network.network),
    Check("page", N_("Page"), network.page),
)
