"""Changing to another version on a booted Debian: to a good one, to sick ones and back, and broken off."""

from __future__ import annotations

import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.fresh import measures
from tests.fresh.booted import Booted
from tests.fresh.computer import current, install, must, version
from tests.fresh.report import Report

FAILED = 1
BACK_WITHIN_S = 60.0


@dataclass(slots=True)
class Away:
    """The longest time without any page, and without the old version being ready."""

    page_s: float = 0.0
    version_s: float = 0.0


@contextmanager
def watched(system: Booted, old: str) -> Iterator[Away]:
    """What one misses at the bench while the block runs; known after it."""
    enough = system.root.folder / "within/enough"
    away = Away()
    with ThreadPoolExecutor(2) as beside:
        page = beside.submit(system.phone, "watch", "900")
        program = beside.submit(_without, system, old, enough)
        try:
            yield away
        finally:
            enough.touch()
            away.version_s = program.result()
            away.page_s = float(str(page.result()["longest_s"]))
            enough.unlink()


def _without(system: Booted, old: str, enough: Path) -> float:
    """The longest time between two looks at which this version was ready."""
    seen, longest_s = time.monotonic(), 0.0
    while not enough.exists():
        time.sleep(0.2)
        if system.shown(measures.UNIT, "ActiveState") == "active" and measures.runs(system) == old:
            longest_s = max(longest_s, time.monotonic() - seen)
            seen = time.monotonic()
    return longest_s


def upgraded(system: Booted, report: Report, later: str) -> None:
    """The bench is free: the new version runs, and the record is the same."""
    was, casts = version(system), system.run("tarebell", "casts")
    with watched(system, was) as away:
        ran = install(system, later, "--upgrade")
    must(version(system).startswith("9.0.1"), f"{version(system)} runs")
    must(system.run("tarebell", "casts") == casts, "the record is not the same")
    report.tell("upgraded; without the page", f"{ran.seconds:.0f} s; {away.page_s:.1f} s")


def rolled_back(system: Booted, report: Report, folder: str, how: str) -> None:
    """A version that is not well: the old one is back within a minute, and the record as it was."""
    was, casts = version(system), system.run("tarebell", "casts")
    with watched(system, was) as away:
        ran = install(system, folder, "--upgrade", code=FAILED)
    must(version(system) == was, f"{version(system)} runs instead of {was}")
    must(system.run("tarebell", "casts") == casts, "the record is not the same")
    system.run("tarebell", "verify")
    figures = f"{ran.seconds:.0f} s; {away.version_s:.0f} s; {away.page_s:.1f} s"
    report.tell(f"a version {how}, rolled back: in all; without the old version; without any page", figures)
    must(away.version_s < BACK_WITHIN_S, f"the old version came back after {away.version_s:.0f} s")


def killed(system: Booted, report: Report, folder: str) -> None:
    """The installer is killed while a sick version is on trial; the next run of it brings the good one back."""
    was, unit = version(system), "installing-of-the-trial"
    system.run("systemd-run", "--quiet", f"--unit={unit}", "bash", f"{folder}/systemd/install", "--upgrade")
    while current(system) == was:
        must(system.shown(unit, "ActiveState") == "active", "it was over before it could be killed")
        time.sleep(0.2)
    system.run("systemctl", "kill", "--signal=KILL", unit)
    ran = install(system, folder, code=FAILED)
    must(version(system) == was, f"{version(system)} runs instead of {was}")
    report.tell(
        "killed while a sick version is on trial; the next run brings the good one back", f"{ran.seconds:.0f} s"
    )
