"""A machine made of a folder: its kernel files, its commands' answers, and a station's settings and state on it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from station.doctor.finding import Finding, Verdict
from station.doctor.life import Found, Life
from station.doctor.patient import Patient, patient
from station.doctor.probe import Ran
from station.doctor.rights import own_account
from station.handles import Program

STRANGER, STATION = 4711, 815
NOBODY = replace(own_account(), name="nobody-here", uid=64_321, gids=frozenset({64_321}))
"""Somebody whom no file of a test belongs to."""


class Ward:
    """Implements `doctor.probe.Probe` on the folder `root`."""

    def __init__(self, folder: Path) -> None:
        self.root = folder / "machine"
        self.state = folder / "state"
        self.state.mkdir(parents=True)
        self.answers: dict[str, Ran | Exception | None] = {}
        self.config = folder / "station.toml"
        self.settings()

    def run(self, *words: str) -> Ran | None:
        """The answer that was laid in for these words; none where no such command is there."""
        line = " ".join(words)
        found = next((answer for start, answer in self.answers.items() if line.startswith(start)), None)
        if isinstance(found, Exception):
            raise found
        return found

    def answer(self, start: str, out: str, code: int = 0) -> None:
        """From now on commands that begin so answer this."""
        self.answers[start] = Ran(code, out)

    def unit(self, **told: str) -> None:
        """The service manager says this of the unit; what is not given is as on a bench that works."""
        usual = {
            "LoadState": "loaded",
            "UnitFileState": "enabled",
            "ActiveState": "active",
            "SubState": "running",
            "Result": "success",
            "NRestarts": "0",
            "User": own_account().name,
            "MainPID": str(STATION),
        }
        self.answer("systemctl show", "".join(f"{key}={value}\n" for key, value in {**usual, **told}.items()))

    def put(self, place: str, text: str = "") -> Path:
        """A file of the machine."""
        file = self.root / place.lstrip("/")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
        return file

    def settings(self, more: str = "", port: str = "/dev/ttyUSB0", top: str = "") -> None:
        """The settings of the station."""
        scale = f'[scale]\nport = "{port}"\nfamily = "status-commas"\n'
        self.config.write_text(f'name = "Wrenfield Works"\nstate_dir = "{self.state}"\n{top}{scale}{more}')

    def process(self, pid: int, name: str, handle: Path | str) -> None:
        """A program that has a file open."""
        self.put(f"/proc/{pid}/comm", f"{name}\n")
        place = self.root / "proc" / str(pid) / "fd" / "3"
        place.parent.mkdir(parents=True)
        place.symlink_to(handle)

    def listening(self, port: int, inode: int = 99, table: str = "tcp") -> None:
        """Somebody listens on this port, at the socket of this number."""
        head = "  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid  timeout inode\n"
        line = f"   0: 00000000:{port:04X} 00000000:0000 0A 00000000:00000000 00:00000000 00000000  1000  0 {inode} 1\n"
        self.put(f"/proc/self/net/{table}", head + line)

    def patient(self, life: Life = Life.STOPPED, **changes: object) -> Patient:
        """The patient; whether the station runs is said here, for no lock of it is there."""
        program = Program(STATION, "tarebell") if life is Life.RUNS else None
        return replace(patient(self, self.config), station=Found(life, program), **changes)  # type: ignore[arg-type]


def verdicts(findings: Iterable[Finding]) -> list[Verdict]:
    """Of each finding its verdict."""
    return [finding.verdict for finding in findings]


def only(check: Callable[[Patient], Iterable[Finding]], of: Patient) -> Finding:
    """The one finding of a check."""
    (finding,) = check(of)
    return finding
