"""The supply and the warmth of the board: by its firmware where that answers, else by the kernel's files."""

from __future__ import annotations

import re
from collections.abc import Iterator

from station.computer.health import health
from station.doctor.checks.from_part import finding_of
from station.doctor.finding import Finding, failed, look, passed
from station.doctor.patient import Patient
from station.overview.program_parts import heat_part, supply_part
from station.texts import t

LOW_NOW, LOW_SINCE = 1 << 0, 1 << 16
SLOWED_SINCE = 1 << 18
"""Bits of the firmware's answer to `get_throttled`, by the board maker's documentation of its vcgencmd."""


def supply(patient: Patient) -> Iterator[Finding]:
    """Whether the supply holds its voltage, now and since the board was switched on."""
    bits = _throttled(patient)
    cure = t("Use a stronger supply, and a short, thick cable.")
    if bits is None:
        yield finding_of(supply_part(health(patient.probe.root)))
    elif bits & LOW_NOW:
        yield failed(t("The supply sags now: it may fail in the middle of a cast and spoil the card."), cure)
    elif bits & LOW_SINCE:
        yield look(t("The supply has sagged since the board was switched on."), cure)
    else:
        yield passed(t("The supply holds its voltage, and has since the board was switched on."))


def heat(patient: Patient) -> Iterator[Finding]:
    """How warm the processor is, and whether that has slowed it down."""
    yield finding_of(heat_part(health(patient.probe.root)))
    bits = _throttled(patient)
    if bits is not None and bits & SLOWED_SINCE and not bits & LOW_SINCE:
        yield look(t("The board has slowed itself down since it was switched on."), t("Give it air."))


def _throttled(patient: Patient) -> int | None:
    """The firmware's bits; None where it is not asked, or this user may not ask."""
    answer = patient.probe.run("vcgencmd", "get_throttled")
    found = None if answer is None else re.search(r"throttled=0x([0-9a-fA-F]{1,8})", answer.out)
    return None if found is None else int(found[1], 16)
