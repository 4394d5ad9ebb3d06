"""The computer that is installed on, as the steps see it: commands with a limit, waiting, whether a page answers."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from station.installing.faults import InstallFault
from station.texts import t

LATE, MISSING = 124, 127
"""Exit codes, as shells have them, of a command that was ended after its limit, and of one that is not there."""
_LAST_LINES = 12


@dataclass(frozen=True, slots=True)
class Ran:
    """How a command ended, and all that it said."""

    code: int
    said: str = ""

    @property
    def well(self) -> bool:
        """Whether it did what it was asked for."""
        return self.code == 0


class Machine(Protocol):
    """The outside world. Nothing raises for what goes wrong outside; it is in the answer."""

    def run(self, *command: str, limit_s: float) -> Ran:
        """Run a command and end it after `limit_s` seconds."""
        ...

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        ...

    def answers(self, url: str) -> bool:
        """Whether a page answers there, whatever it says, within two seconds."""
        ...

    def free_mb(self, folder: Path) -> int:
        """Free space where the folder lies, or will lie, in MB."""
        ...


def required(machine: Machine, *command: str, limit_s: float, hint: str = "") -> str:
    """What the command said. Raises InstallFault with its last lines when it failed."""
    ran = machine.run(*command, limit_s=limit_s)
    if ran.well:
        return ran.said
    raise InstallFault(failure(command, ran, limit_s), hint)


def failure(command: tuple[str, ...], ran: Ran, limit_s: float) -> str:
    """What went wrong with a command, with the end of what it said."""
    shown = " ".join(command)
    if ran.code == MISSING:
        return t("The command {command} is not there.", command=command[0])
    if ran.code == LATE:
        return t("“{command}” took longer than {limit_s} s and was ended.", command=shown, limit_s=f"{limit_s:.0f}")
    said = "\n".join(line for line in ran.said.splitlines()[-_LAST_LINES:] if line.strip())
    return t("“{command}” failed (exit code {code}).\n{said}\n", command=shown, code=ran.code, said=said)
