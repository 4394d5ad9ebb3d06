"""The station as a service: installed, started with the board, running; and how often it has crashed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from station.doctor.finding import Finding, failed, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.unit import NAME
from station.starts import CRASHES, crashes, marks_in, unclean
from station.texts import t, tn

_RUNTIME = "/run/tarebell"
_LINES = "2000"
_ERRORS = re.compile(r"(?:CRITICAL|ERROR) tarebell\S* .*")
_MOST_ERRORS = 3


def service(patient: Patient) -> Iterator[Finding]:
    """What the service manager says of the unit."""
    unit = patient.unit
    if unit is None:
        told = t("No service manager answers here: nothing starts the station by itself.")
        yield look(told, t("At a bench it should run as a service: README, On a Pi."))
        return
    if unit.load != "loaded":
        told = t("The station is not installed as a service: after a power cut nobody starts it.")
        yield look(told, t("Install it: README, On a Pi."))
        return
    if unit.starts not in ("enabled", "enabled-runtime", "static"):
        told = t("The service is installed, but does not start with the board.")
        yield look(told, t("Let it start with the board: sudo systemctl enable tarebell"))
    if unit.active == "failed":
        told = t("The service has failed ({result}).", result=unit.result)
        yield failed(told, t("Why: sudo journalctl -u tarebell -n 50. Then: sudo systemctl restart tarebell"))
    elif unit.active == "activating" and unit.sub == "auto-restart":
        told = t("The service has ended ({result}) and is being started again.", result=unit.result)
        yield failed(told, t("Why: sudo journalctl -u tarebell -n 50"))
    elif unit.active in ("active", "reloading"):
        yield passed(t("The service runs."))
    elif unit.may_run:
        yield look(t("The service is being started or stopped."), t("Ask again in a minute."))
    else:
        yield look(t("The service is installed and stopped."), t("Start it: sudo systemctl start tarebell"))


def crash(patient: Patient) -> Iterator[Finding]:
    """How often the station crashed of late, and its last errors in the log of the system."""
    settings = patient.settings
    folders = [patient.place(_RUNTIME), *([] if settings is None else [settings.state_dir])]
    marks = marks_in(folders, patient.now.boot_id)
    count = unclean(marks, runs=patient.station.life is not Life.STOPPED)
    recent = crashes(marks, patient.now)
    told = tn(
        "It has crashed {n} time since its last orderly end.",
        "It has crashed {n} times since its last orderly end.",
        count,
    )
    cure = t("Make a support file (`tarebell doctor --bundle FILE`) for somebody who helps.")
    restarts = 0 if patient.unit is None else patient.unit.restarts
    if recent >= CRASHES:
        told = t("{told} It runs in safe mode: nothing is spoken, no message goes to a phone.", told=told)
        yield failed(told, t("Look at its errors, then stop it and start it again. {cure}", cure=cure))
    elif count:
        yield look(told, cure)
    elif restarts:
        told = tn(
            "The service manager has started it again {n} time.",
            "The service manager has started it again {n} times.",
            restarts,
        )
        yield look(told, cure)
    else:
        yield passed(t("No crash is known since the board was switched on."))
    if errors := _errors(patient):
        yield look("\n".join((t("Its last errors:"), *errors)), names=errors)


def _errors(patient: Patient) -> tuple[str, ...]:
    """The last lines of the system's log that tell of an error; none where this user may not read it."""
    answer = patient.probe.run("journalctl", "--unit", NAME, "--boot", "--lines", _LINES, "--output", "cat", "--quiet")
    if answer is None or answer.code != 0:
        return ()
    found = [line for line in answer.out.splitlines() if _ERRORS.fullmatch(line)]
    return tuple(line[:300] for line in found[-_MOST_ERRORS:])
