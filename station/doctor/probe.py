"""How the doctor reaches the machine: its files below a root folder, its commands with a limit, its programs.

A test hands in a folder that looks like a machine, and commands that answer as it likes.
"""

from __future__ import annotations

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

WITHIN_S = 5.0
"""A command that has not answered by then is taken for one that hangs."""


@dataclass(frozen=True, slots=True)
class Ran:
    """A command that came to its end: exit code, and all that it printed, errors after the rest."""

    code: int
    out: str


class Probe(Protocol):
    """The machine as the doctor may see it. Nothing here changes it."""

    @property
    def root(self) -> Path:
        """The folder below which the machine's files lie; / but in a test."""
        ...

    def run(self, *words: str) -> Ran | None:
        """What the command answered; None where there is no such command. Raises TimeoutError."""
        ...


class Machine:
    """`Probe` on this machine."""

    root = Path("/")

    def run(self, *words: str) -> Ran | None:
        """See `Probe`."""
        plain = {**os.environ, "LC_ALL": "C", "SYSTEMD_PAGER": "", "SYSTEMD_COLORS": "0"}
        try:
            done = subprocess.run(
                words,
                check=False,
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=WITHIN_S,
                env=plain,
                text=True,
                errors="replace",
            )
        except subprocess.TimeoutExpired as late:
            raise TimeoutError(f"{words[0]} did not answer within {WITHIN_S:g} s") from late
        except (FileNotFoundError, PermissionError):
            return None
        return Ran(done.returncode, done.stdout + done.stderr)


def below(probe: Probe, place: Path) -> Path:
    """A place of the machine where this probe finds it. What was already given below its root stays where it is."""
    if place.is_relative_to(probe.root):
        return place
    return probe.root / place.relative_to(place.anchor)


def text_of(file: Path) -> str:
    """The text of a kernel's file, without blanks around it; empty when it cannot be read."""
    try:
        return file.read_text("utf-8", errors="replace").strip("\0 \n\t")
    except (OSError, ValueError):
        return ""
