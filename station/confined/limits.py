"""What a confined process does first: it limits itself, so that a malicious or monstrous file takes down only it."""

from __future__ import annotations

import contextlib
import os
import resource
from typing import Final

MB: Final = 1024 * 1024
NICER: Final = 15
"""Steps by which a confined process stands back for the bench."""


def stand_back(most_bytes: int) -> None:
    """Takes little memory, leaves no core behind, and lets others go first."""
    with contextlib.suppress(OSError), open("/proc/self/oom_score_adj", "w") as sacrifice:
        # When the whole board runs out of memory, this process goes first and not the bench.
        sacrifice.write("1000")
    for what, most in ((resource.RLIMIT_AS, most_bytes), (resource.RLIMIT_CORE, 0)):
        resource.setrlimit(what, (most, most))
    os.nice(NICER)


def limit_itself(most_bytes: int, cpu_s: int) -> None:
    """Stands back, takes only so much processor time, and writes no file: for work on what a stranger has sent."""
    stand_back(most_bytes)
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    # The soft limit first: its signal tells the parent why.
    resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s + 5))


def peak_kib() -> int:
    """Most memory held; not as getrusage tells it, which begins with the parent's peak."""
    with open("/proc/self/status") as status:
        return next((int(line.split()[1]) for line in status if line.startswith("VmHWM")), 0)
