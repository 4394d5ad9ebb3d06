"""Making the checks: each on its own, with a limit, so that none that hangs or breaks keeps another from being made."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence

from station.doctor.finding import Finding, Looked, look
from station.doctor.order import CHECKS, Check
from station.doctor.patient import Patient
from station.errors import StationError
from station.texts import number, t


def examined(patient: Patient, checks: Sequence[Check] = CHECKS) -> Iterator[Looked]:
    """Every check in its order, as soon as it is made. Nothing is raised."""
    for check in checks:
        yield Looked(check.key, t(check.title), _findings(check, patient))


def _findings(check: Check, patient: Patient) -> tuple[Finding, ...]:
    if patient.settings is None and not check.bare:
        return (look(t("Not looked at, because the settings cannot be read.")),)
    found: list[Finding] = []
    broke: list[BaseException] = []

    def act() -> None:
        try:
            for finding in check.act(patient):
                found.append(finding)
        except BaseException as why:
            broke.append(why)

    within_s = check.thorough_s if patient.thorough else check.within_s
    # A thread that hangs in the kernel cannot be ended; as a daemon it does not keep the process from ending.
    thread = threading.Thread(target=act, name=f"check {check.key}", daemon=True)
    thread.start()
    thread.join(within_s)
    if thread.is_alive():
        return (*found, look(t("It could not be looked at within {within} s.", within=number(within_s))))
    return (*found, _broken(broke[0])) if broke else tuple(found)


def _broken(error: BaseException) -> Finding:
    match error:
        case StationError():
            told, cure = str(error), t(error.hint)
            why = told
        case PermissionError():
            why = str(error.filename or error.strerror)
            told, cure = t("This user may not look at it ({what}).", what=why), t("Ask again with sudo.")
        case _:
            why = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
            told, cure = t("It could not be looked at: {why}.", why=why.rstrip(".")), ""
    return look(told, cure, names=(why, why.rstrip(".")))
