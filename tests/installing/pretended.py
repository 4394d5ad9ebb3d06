"""A computer that is only pretended: a folder as its root, and commands that change that folder as the real ones would.

Time passes only in `wait` and in a stop that hangs. Each command counts, and each change of a file below the root, by
whomever: with `break_at` the one of that number is not done. Then the process dies (`Killed`), or it is told that it
failed (`failing`).
"""

from __future__ import annotations

import errno
import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from station.installing.machine import LATE, Ran
from station.installing.source import source_in
from station.installing.system_files import PACKAGES
from tests.installing.breaking import Killed
from tests.installing.breaking import counting as counting_now

PYTHON = "/usr/bin/python3"
MANY_MB = 5000


@dataclass
class Unit:
    """What systemd knows of the station."""

    active: str = "inactive"
    enabled: bool = False
    pid: int = 0
    restarts: int = 0


@dataclass
class Pretended:
    """The machine. `ill` names digests of sources whose versions crash, hang or never answer."""

    root: Path
    ill: dict[str, str] = field(default_factory=dict)
    busy: Callable[[], str] = lambda: ""
    free: int = MANY_MB
    net: bool = True
    migrates: set[str] = field(default_factory=set)
    break_at: int | None = None
    failing: bool = False
    seconds: float = 0.0
    calls: int = 0
    commands: list[tuple[str, ...]] = field(default_factory=list)
    unit: Unit = field(default_factory=Unit)
    packages: set[str] = field(default_factory=set)
    offers: set[str] = field(default_factory=lambda: set(PACKAGES))
    users: set[str] = field(default_factory=set)
    record: str | None = "0003"
    restored: list[str] = field(default_factory=list)
    interrupt: Callable[[tuple[str, ...]], None] = lambda command: None
    looks: int = 0
    """How often the station was looked at since its start."""
    reads: dict[str, int] = field(default_factory=dict)
    """By the digest of a source: at how many looks it is still reading its record."""
    read_ahead: list[str] = field(default_factory=list)
    """Digests of sources whose versions read the record ahead, in order."""

    @contextmanager
    def counting(self) -> Iterator[None]:
        """Count from here to the end, and break where it is wanted."""
        self.calls = 0
        counting_now.append(self)
        try:
            yield
        finally:
            counting_now.clear()

    def run(self, *command: str, limit_s: float) -> Ran:
        try:
            self.one_more()
        except OSError:
            return Ran(1, "it broke")
        self.commands.append(command)
        self.interrupt(command)
        return self._ran(command, limit_s)

    def wait(self, seconds: float) -> None:
        self.one_more()
        self.seconds += seconds

    def answers(self, url: str) -> bool:
        assert url == "http://127.0.0.1:8060/"
        return self.unit.active == "active" and self._fate() != "answers nothing"

    def free_mb(self, folder: Path) -> int:
        return self.free

    def one_more(self) -> None:
        """One more thing is about to be done."""
        self.calls += 1
        if counting_now and self.calls == self.break_at:
            if self.failing:
                raise OSError(errno.ENOSPC, "No space left on device")
            raise Killed

    @property
    def lists(self) -> Path:
        """What the system has read of what it could have; not there on a new card."""
        return self.root / "var/lib/apt/lists/trial_Packages"

    def _ran(self, command: tuple[str, ...], limit_s: float) -> Ran:
        match command:
            case ("dpkg", _):
                return Ran(0, "arm64\n")
            case ("dpkg-query", _, package):
                return Ran(0, "Status: install ok installed") if package in self.packages else Ran(1)
            case ("apt-cache", *_, package):
                # Its complaint comes the same way as its answer.
                offered = self.lists.exists() and package in self.offers
                return Ran(0, f"Package: {package}") if offered else Ran(100, "E: No packages found")
            case ("apt-get", what, *rest):
                if not self.net:
                    return Ran(100, "no network")
                self.lists.parent.mkdir(parents=True, exist_ok=True)
                self.lists.touch()
                if what == "install":
                    self.packages |= {each for each in rest if not each.startswith("-")}
                return Ran(0)
            case ("id", user):
                return Ran(0 if user in self.users else 1)
            case ("systemd-sysusers", _):
                self.users.add("tarebell")
            case ("systemd-tmpfiles", *_):
                (self.root / "var/lib/tarebell/backups").mkdir(parents=True, exist_ok=True)
                (self.root / "etc/tarebell").mkdir(parents=True, exist_ok=True)
            case ("userdel", user):
                self.users.discard(user)
            case ("systemctl", *words):
                return self._systemctl(words, limit_s)
            case ("runuser", "-u", "tarebell", "--", program, *words):
                return self.station(Path(program), words)
            case (python, "-m", "venv", "--clear", folder) if python == PYTHON:
                shutil.rmtree(folder, ignore_errors=True)
                (Path(folder) / "bin").mkdir(parents=True)
                (Path(folder) / "bin/python").write_text("python")
                (Path(folder) / "lib/python3.11/site-packages").mkdir(parents=True)
            case (python, "-m", "pip", "install", *words):
                return self._pip(Path(python).parents[1], words)
            case (program, "--version") if program.endswith("bin/tarebell"):
                return Ran(0) if Path(program).exists() else Ran(127)
        return Ran(0)

    def _pip(self, folder: Path, words: list[str]) -> Ran:
        if not self.net and "--no-index" not in words:
            return Ran(1, "no network")
        packages = folder / "lib/python3.11/site-packages"
        for what in words:
            if what.startswith("psycopg"):
                (packages / "psycopg").mkdir(exist_ok=True)
                (packages / "psycopg/__init__.py").touch()
            elif (Path(what) / "pyproject.toml").is_file():
                (folder / "bin/tarebell").write_text(source_in(Path(what)).digest)
        return Ran(0)

    def _systemctl(self, words: list[str], limit_s: float) -> Ran:
        unit = self.unit
        match words:
            case ["show", *_]:
                self._lives()
                status = f"{self.looks * 500} rows" if unit.active == "activating" else "The station runs."
                shown = {
                    "ActiveState": unit.active,
                    "MainPID": unit.pid,
                    "NRestarts": unit.restarts,
                    "StatusText": "" if self._fate() == "hangs" else status,
                }
                return Ran(0, "".join(f"{name}={value}\n" for name, value in shown.items()))
            case ["is-enabled", *_]:
                return Ran(0 if unit.enabled else 1)
            case ["enable", *_]:
                unit.enabled = True
            case ["disable", *_]:
                unit.enabled = False
            case ["start", *_]:
                if unit.active != "active":
                    assert (self.root / "etc/systemd/system/tarebell.service").exists()
                    unit.active, unit.pid, unit.restarts = "activating", unit.pid + 1, 0
                    self.looks = 0
            case ["stop", *_]:
                if self._fate() == "hangs" and unit.active != "inactive":
                    self.seconds += limit_s
                    return Ran(LATE)
                unit.active, unit.pid = "inactive", unit.pid
            case ["kill", *_]:
                unit.active = "inactive"
        return Ran(0)

    def runs(self) -> Path:
        """The folder of the version that the link points at."""
        return (self.root / "opt/tarebell/current").resolve()

    def digest(self) -> str:
        """Of the source of that version."""
        return (self.runs() / ".built").read_text()

    def _fate(self) -> str:
        return self.ill.get(self.digest(), "") if (self.runs() / ".built").exists() else ""

    def _lives(self) -> None:
        """What has become of the process by the next look."""
        unit = self.unit
        self.looks += 1
        if unit.active == "activating":
            proc = self.root / f"proc/{unit.pid}/cmdline"
            proc.parent.mkdir(parents=True, exist_ok=True)
            proc.write_text(f"/{(self.runs() / 'bin/python').relative_to(self.root)}\0run")
            if self.digest() in self.migrates and self.record is not None:
                self.record = "0004"
                self.keep_record()
            if self._fate() == "crashes":
                unit.restarts += 1
            elif self._fate() != "hangs" and self.looks >= self.reads.get(self.digest(), 0):
                unit.active = "active"

    def keep_record(self) -> None:
        """A record of the form that it has now."""
        if self.record is None:
            return
        place = self.root / "var/lib/tarebell/record.db"
        place.parent.mkdir(parents=True, exist_ok=True)
        with closing(sqlite3.connect(place)) as db, db:
            db.execute("PRAGMA synchronous = OFF")
            db.execute("CREATE TABLE IF NOT EXISTS alembic_version (version_num)")
            db.execute("DELETE FROM alembic_version")
            db.execute("INSERT INTO alembic_version VALUES (?)", (self.record,))

    def station(self, program: Path, words: list[str]) -> Ran:
        there = self.root / program.relative_to("/")
        assert there.exists(), f"{there} is asked and is not there"
        assert words[-2:] == ["--config", "/etc/tarebell/station.toml"]
        match words:
            case ["idle", "--json", *more, _, _]:
                if busy := self.busy():
                    return Ran(3, json.dumps({"busy": busy, "backup": None}))
                backup = "/var/lib/tarebell/backups/one.zip" if "--backup" in more and self.record else None
                return Ran(0, json.dumps({"busy": "", "backup": backup}))
            case ["read-ahead", *_]:
                self.read_ahead.append(there.read_text())
            case ["restore", backup, "--instead", _, _]:
                assert self.unit.active == "inactive", "the record is restored under a running station"
                self.restored.append(backup)
                self.record = "0003"
                self.keep_record()
            case ["check-settings", *_]:
                text = (self.root / "etc/tarebell/station.toml").read_text()
                return Ran(2, "name: what is that?") if "wrong" in text else Ran(0)
            case ["address", *_]:
                return Ran(0, "http://192.0.2.7:8060/")
            case ["pair", *_]:
                return Ran(0, "The pairing code is 123 456.")
        return Ran(0)
