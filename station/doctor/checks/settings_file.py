"""The settings: whether the file is there, may be read by the station's user, and says what can be."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from station.doctor.finding import Finding, failed, passed
from station.doctor.patient import Patient
from station.doctor.rights import READ, may, must_read
from station.errors import SettingsError, StationError
from station.phone.tls import context_of
from station.scale.check import check
from station.sheet_desk import SheetDesk
from station.texts import t, tn


def settings(patient: Patient) -> Iterator[Finding]:
    """The file itself, and the sheets and the certificate that it names."""
    file = patient.config
    if patient.settings is None:
        must_read(file)
        cure = t("Correct them; `tarebell check-settings --config {file}` lists what is wrong.", file=file)
        yield _mistakes(patient.problems, cure, str(file))
        return
    if not may(patient.owner, file, READ):
        yield failed(
            t("The station runs as {user}, who may not read {file}.", user=patient.owner.name, file=file),
            t(
                "Let that user read it: sudo chgrp {user} {file} && sudo chmod g+r {file}",
                user=patient.owner.name,
                file=file,
            ),
            names=(str(file),),
        )
        return
    known = patient.settings
    problems = _problems(lambda: check(known.scale)) + _problems(lambda: context_of(known.web))
    count = 0

    def sheets() -> None:
        nonlocal count
        read = SheetDesk(known.sheets, known.state_dir).sheets()
        count = len(read.materials)

    problems += _problems(sheets)
    if problems:
        yield _mistakes(tuple(problems), t("Correct the settings or the sheet that is named."), str(file))
        return
    told = tn("{file} is good, with {n} material.", "{file} is good, with {n} materials.", count, file=file)
    yield passed(told, names=(str(file),))


def _mistakes(problems: tuple[str, ...], cure: str, file: str) -> Finding:
    count = tn("{n} mistake in the settings:", "{n} mistakes in the settings:", len(problems))
    # Word by word a mistake may quote a password.
    return failed("\n".join((count, *problems)), cure, names=(*problems, file))


def _problems(act: Callable[[], object]) -> list[str]:
    try:
        act()
    except SettingsError as wrong:
        return list(wrong.problems)
    except StationError as wrong:
        return [wrong.sentence()]
    return []
