"""What the service manager says of the station's unit."""

from __future__ import annotations

from dataclasses import dataclass

from station.doctor.probe import Probe

NAME = "tarebell.service"
_PROPERTIES = ("LoadState", "UnitFileState", "ActiveState", "SubState", "Result", "NRestarts", "User", "MainPID")
_MAY_RUN = ("active", "activating", "reloading", "deactivating")


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit in the manager's own words. `pid` is 0 and `restarts` is 0 where nothing is known."""

    load: str
    starts: str
    active: str
    sub: str
    result: str
    restarts: int
    user: str
    pid: int

    @property
    def may_run(self) -> bool:
        """Whether the station runs, or may do so at any moment because it is being started."""
        return self.active in _MAY_RUN


def unit_of(probe: Probe) -> Unit | None:
    """The unit; None where no service manager answers. Raises TimeoutError."""
    answer = probe.run("systemctl", "show", NAME, f"--property={','.join(_PROPERTIES)}")
    if answer is None or answer.code != 0:
        return None
    told = dict(line.split("=", 1) for line in answer.out.splitlines() if "=" in line)
    if "LoadState" not in told:
        return None
    return Unit(
        told["LoadState"],
        told.get("UnitFileState", ""),
        told.get("ActiveState", ""),
        told.get("SubState", ""),
        told.get("Result", ""),
        _number(told.get("NRestarts", "")),
        told.get("User", ""),
        _number(told.get("MainPID", "")),
    )


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() else 0
