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

    # A thread that hangs in the kernel cannot be ended; as a daemon it does not keep the process from ending.
    within_s = check.thorough_s if patient.thorough else check.within_s
    thread = threading.Thread(target=act, name=f"check {check.key}", daemon=True)
    thread.start()
    thread.join(within_s)
    if thread.is_alive():
        return (*found, _not_looked_at(t("no answer within {within} s", within=number(within_s))))
    if broke:
        return (*found, _not_looked_at(_why(broke[0])))
    return tuple(found)


def _not_looked_at(why: str) -> Finding:
    return look(t("It could not be looked at: {why}.", why=why.rstrip(".")), names=(why,))


def _why(error: BaseException) -> str:
    if isinstance(error, StationError):
        return error.sentence()
    if isinstance(error, PermissionError):
        return t("this user may not ({what}); ask again with sudo", what=error.filename or error.strerror)
    return f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
