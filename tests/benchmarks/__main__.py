"""All benchmarks one after the other, as one table in Markdown: python -m tests.benchmarks [--short] [NAME...]

Each in a process of its own; nothing else should run on the machine meanwhile. Those that tell lines of their own have
a row for each line. With --short all of them take minutes and their figures are only good for seeing that they run.
"""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from tests.benchmarks.table import AS_JSON, HEAD, SHORT, Figure

ROOT = Path(__file__).resolve().parents[2]
FIGURES = ("reading_path", "service_cost", "step_written", "alarm_lateness", "long_record")
LINES: dict[str, tuple[str, ...]] = {
    "day_written": ("2",),
    "cue_delay": ("2",),
    "weight_age": ("15",),
    "alarm_back": ("2",),
    "fifty_pages": ("30",),
    "whole_station": ("5",),
    "photo_large": (),
    "mesh_million": (),
    "first_paint": ("1",),
    "log_questions": (),
}
"""Those that print lines, each with what makes it short."""


def machine() -> str:
    """When, where, how busy: one line."""
    model = next(
        (line.split(":")[1].strip() for line in Path("/proc/cpuinfo").read_text().splitlines() if "model name" in line),
        platform.machine(),
    )
    load = os.getloadavg()[0]
    return (
        f"{datetime.now(UTC):%Y-%m-%d %H:%M} UTC, {os.cpu_count()} × {model}, Linux {platform.release()}, "
        f"Python {platform.python_version()}, load {load:.1f} before it began"
    )


def rows(name: str, short: bool) -> Iterator[Figure]:
    """What one benchmark tells, as it comes; a row that says so when it fails."""
    words = [SHORT] if short else []
    words = [*words, AS_JSON] if name in FIGURES else list(LINES[name]) if short else []
    run = subprocess.Popen(
        [sys.executable, "-m", f"tests.benchmarks.{name}", *words],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert run.stdout is not None
    assert run.stderr is not None
    for line in run.stdout:
        yield Figure(**json.loads(line)) if name in FIGURES else Figure(f"{name}", line.strip())
    why = run.stderr.read().strip().splitlines()
    if run.wait():
        yield Figure(name, f"failed: {why[-1] if why else run.returncode}", "", "runs", False)


def main(short: bool, names: list[str]) -> int:
    """Tell all; how many figures miss their goal."""
    print(f"`python -m tests.benchmarks{f' {SHORT}' if short else ''}`, {machine()}\n\n{HEAD}", flush=True)
    missed = 0
    for name in names or [*FIGURES, *LINES]:
        began = time.monotonic()
        for figure in rows(name, short):
            missed += figure.kept is False
            print(figure.row(), flush=True)
        print(f"{name}: {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
    return missed


if __name__ == "__main__":
    given = [word for word in sys.argv[1:] if word != SHORT]
    if unknown := set(given) - {*FIGURES, *LINES}:
        sys.exit(f"There is no benchmark {', '.join(sorted(unknown))}; there are {', '.join([*FIGURES, *LINES])}.")
    main(SHORT in sys.argv, given)
