"""The station as systemd's service: stop and start it, and find out whether a version of it is well."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.installing.machine import Machine, required
from station.installing.places import UNIT, Places
from station.installing.versions import Version
from station.texts import t

QUICK_S = 20.0
STOP_S = 10.0
"""An orderly stop takes no time; what takes longer hangs, and is killed."""
LOOK_EVERY_S = 1.0
LONGEST_S = 3600.0
"""So long it is waited for at most, however much it gets on."""
STAYS_S = 3.0
"""Well is what still is the same process after this time."""
CRASHES = 2


@dataclass(frozen=True, slots=True)
class Seen:
    """The service as systemd tells of it. `restarts` are those since it was last started by hand.

    `status` is what the process says of itself.
    """

    active: str
    pid: int
    restarts: int
    status: str = ""


@dataclass(frozen=True, slots=True)
class Service:
    """The service on one machine."""

    machine: Machine
    places: Places

    def seen(self) -> Seen:
        """How it is now."""
        said = self.machine.run(
            "systemctl", "show", UNIT, "--property=ActiveState,MainPID,NRestarts,StatusText", limit_s=QUICK_S
        ).said
        told = dict(line.partition("=")[::2] for line in said.splitlines())
        return Seen(
            told.get("ActiveState", ""),
            _whole(told.get("MainPID")),
            _whole(told.get("NRestarts")),
            told.get("StatusText", ""),
        )

    @property
    def at_work(self) -> bool:
        """Whether a process of it is there, or about to be."""
        return self.places.manager_runs and self.seen().active not in ("", "inactive", "failed")

    @property
    def enabled(self) -> bool:
        """Whether it starts with the computer."""
        return self.machine.run("systemctl", "is-enabled", "--quiet", UNIT, limit_s=QUICK_S).well

    def enable(self) -> None:
        """Let it start with the computer. Raises InstallFault."""
        required(self.machine, "systemctl", "enable", "--quiet", UNIT, limit_s=QUICK_S)

    def start(self) -> None:
        """Ask for its start, and wait for nothing. Raises InstallFault."""
        required(self.machine, "systemctl", "start", "--no-block", UNIT, limit_s=QUICK_S)

    def stop(self) -> None:
        """It is gone when this returns, in good order or not."""
        if not self.machine.run("systemctl", "stop", UNIT, limit_s=STOP_S).well:
            self.machine.run("systemctl", "kill", "--signal=SIGKILL", UNIT, limit_s=QUICK_S)
            self.machine.run("systemctl", "stop", UNIT, limit_s=STOP_S)

    def reload(self) -> None:
        """Let systemd read its files again. Raises InstallFault."""
        required(self.machine, "systemctl", "daemon-reload", limit_s=QUICK_S)

    def ill(self, version: Version, url: str, patience_s: float) -> str:
        """Why that version is not well, after at most `patience_s` in which it did not get on; empty once it is.

        It gets on while what it says of itself during its start changes: a long record is being read.
        """
        waited, why, pid, status, in_all = 0.0, "", 0, "", 0.0
        while waited < patience_s and in_all < LONGEST_S:
            seen = self.seen()
            if seen.active == "activating" and seen.status != status:
                waited, status = 0.0, seen.status
            if seen.restarts >= CRASHES:
                return t("It ended {times} times right after its start.", times=seen.restarts)
            why = self._not_yet(seen, version, url)
            if not why and pid == seen.pid:
                return ""
            pid = 0 if why else seen.pid
            pause = LOOK_EVERY_S if why else STAYS_S
            self.machine.wait(pause)
            waited, in_all = waited + pause, in_all + pause
        return why or t("It did not stay the same process for {seconds} s.", seconds=f"{STAYS_S:.0f}")

    def _not_yet(self, seen: Seen, version: Version, url: str) -> str:
        if seen.active != "active":
            return t("It did not say that it is ready (systemd: {state}).", state=seen.active or "?")
        if not self._is_of(seen.pid, version):
            return t("Another version than {version} runs.", version=version.name)
        if not self.machine.answers(url):
            return t("Its page does not answer at {url}.", url=url)
        return ""

    def _is_of(self, pid: int, version: Version) -> bool:
        """Whether the process was started from that version's environment, by the path of its Python."""
        try:
            said = (self.places.root / f"proc/{pid}/cmdline").read_bytes()
        except OSError:
            return False
        return Path(said.split(b"\0")[0].decode(errors="replace")).parent == Path(
            self.places.seen(version.folder / "bin")
        )


def _whole(text: str | None) -> int:
    return int(text) if text and text.isdigit() else 0
