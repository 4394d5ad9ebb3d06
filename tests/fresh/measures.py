"""Figures of a station that runs as a service in a booted root."""

from __future__ import annotations

import re
import time

from tests.fresh.booted import Booted
from tests.fresh.roots import WentWrong

UNIT = "tarebell.service"


def pid(system: Booted) -> int:
    """The station's process, as that system counts."""
    return int(system.shown(UNIT, "MainPID"))


def runs(system: Booted) -> str:
    """Which version the process is of, by the path of its Python; "" when there is none."""
    said = system.ran("cat", f"/proc/{pid(system)}/cmdline").said.split("\0")[0].split("/")
    return said[4] if len(said) > 4 else ""


def memory_mb(system: Booted) -> tuple[float, float]:
    """What it holds in memory, and what is its own of that (shared pages counted in part), in MB."""
    said = system.run("cat", f"/proc/{pid(system)}/smaps_rollup")
    found = {name: int(kb) * 1024 / 1e6 for name, kb in re.findall(r"^(\w+): +(\d+) kB$", said, re.MULTILINE)}
    return found["Rss"], found["Pss"]


def threads(system: Booted) -> int:
    """How many threads it has."""
    return len(system.run("ls", f"/proc/{pid(system)}/task").split())


def cpu_s(system: Booted) -> float:
    """Seconds of processor time that it has used, itself alone."""
    fields = system.run("cat", f"/proc/{pid(system)}/stat").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / 100


def busy_percent(system: Booted, seconds: float) -> float:
    """Of one processor, over that time."""
    before, began = cpu_s(system), time.monotonic()
    time.sleep(seconds)
    return (cpu_s(system) - before) / (time.monotonic() - began) * 100


def page_after_s(system: Booted) -> tuple[float, float]:
    """Seconds from asking for a start of the stopped station until its page answers, and until it is ready."""
    system.run("systemctl", "stop", UNIT)
    system.run("systemctl", "start", "--no-block", UNIT)
    began = int(system.shown(UNIT, "InactiveExitTimestampMonotonic")) / 1e6
    answered = system.phone("await", "60")["at"]
    system.run("systemctl", "start", UNIT)
    ready = int(system.shown(UNIT, "ActiveEnterTimestampMonotonic")) / 1e6
    assert isinstance(answered, float)
    return answered - began, ready - began


def exposure(system: Booted) -> str:
    """What `systemd-analyze security` says of the running unit, in a line."""
    said = system.run("systemd-analyze", "security", "--no-pager", UNIT)
    found = re.search(r"Overall exposure level for \S+: ([\d.]+ \w+)", said)
    if found is None:
        raise WentWrong(said[-500:])
    return found[1]
