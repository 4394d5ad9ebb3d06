"""A root that is booted: its own systemd, with the unit, the user and the log of a real computer.

What it shares with this machine: the kernel and its clock, and with `network` its addresses. Then it announces nothing
there: nobody in that network asked for a trial. Without `network` it has loopback alone.
"""

from __future__ import annotations

import itertools
import json
import os
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.fresh.roots import POLITE, Root, WentWrong, container

GIVES_UP_S = 120.0
_CGROUPS = Path("/sys/fs/cgroup")
_numbers = itertools.count(1)


@dataclass(frozen=True, slots=True)
class Ran:
    """How a command ended, all that it said, and the seconds that it took."""

    code: int
    said: str
    seconds: float


@dataclass(frozen=True, slots=True)
class Booted:
    """A running system. `pid`: its first process, as this machine counts."""

    root: Root
    pid: int

    def ran(self, *command: str) -> Ran:
        """Run a command as its administrator, whatever comes of it."""
        words = [
            "nsenter",
            f"--target={self.pid}",
            "--mount",
            "--uts",
            "--ipc",
            "--net",
            "--pid",
            "--cgroup",
            "--root",
            "--wd",
        ]
        clean = ["env", "--ignore-environment", "PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin"]
        began = time.monotonic()
        done = subprocess.run(
            [*POLITE, *words, "--", *clean, *command],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
        return Ran(done.returncode, done.stdout, time.monotonic() - began)

    def run(self, *command: str, code: int = 0) -> str:
        """What a command said. Raises WentWrong when it does not end with `code`."""
        ran = self.ran(*command)
        if ran.code != code:
            raise WentWrong(f"exit code {ran.code} instead of {code}: {' '.join(command)}\n{ran.said[-6000:]}")
        return ran.said

    def phone(self, *words: str, script: str = "phone") -> dict[str, object]:
        """What within/phone.py (or another script there) says about it (JSON)."""
        told: dict[str, object] = json.loads(self.run("python3", f"/within/{script}.py", *words).splitlines()[-1])
        return told

    def shown(self, unit: str, what: str) -> str:
        """A property of a unit."""
        return self.run("systemctl", "show", unit, f"--property={what}", "--value").strip()


@contextmanager
def booted(root: Root, *, network: bool = True) -> Iterator[Booted]:
    """Boot it, wait until all is started, and shut it down in good order at the end."""
    command = [*container(root, network=network), "--console=pipe", "--boot", "systemd.log_target=journal"]
    groups = _groups()
    _silent(root, network)
    with (root.folder.parent / f"{root.folder.name}.console").open("w") as console:
        runner = subprocess.Popen(
            _placed(command, groups),
            stdin=subprocess.DEVNULL,
            stdout=console,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )
    try:
        system = Booted(root, _first_process(runner))
        _until_started(system)
        yield system
    finally:
        runner.send_signal(signal.SIGTERM)
        try:
            runner.wait(GIVES_UP_S)
        except subprocess.TimeoutExpired:
            runner.kill()
            runner.wait()
        _swept(groups)


def _silent(root: Root, network: bool) -> None:
    """The program that announces names does not start, though it is installed (`systemctl mask`)."""
    mask = root.folder / "etc/systemd/system/avahi-daemon.service"
    if network and not mask.is_symlink():
        mask.parent.mkdir(parents=True, exist_ok=True)
        mask.symlink_to("/dev/null")
    elif not network:
        mask.unlink(missing_ok=True)


def _groups() -> list[Path]:
    """A control group of its own, where no systemd of this machine gives it one; in each hierarchy that it uses."""
    if Path("/run/systemd/system").is_dir():
        return []
    both = [_CGROUPS / "unified", _CGROUPS / "systemd"] if (_CGROUPS / "unified").is_dir() else [_CGROUPS]
    name = f"tarebell-fresh-{os.getpid()}-{next(_numbers)}"
    return [each / name for each in both if each.is_dir()]


def _placed(command: list[str], groups: list[Path]) -> list[str]:
    if not groups:
        return command
    enter = " && ".join(f"mkdir {group} && echo 0 >{group}/cgroup.procs" for group in groups)
    # The newest systemd knows only the one hierarchy of control groups.
    return ["env", "SYSTEMD_NSPAWN_UNIFIED_HIERARCHY=1", "bash", "-c", f'{enter} && exec "$@"', "-", *command]


def _swept(groups: list[Path]) -> None:
    for group in groups:
        for folder, _, _ in os.walk(group, topdown=False):
            Path(folder).rmdir()


def _first_process(runner: subprocess.Popen[bytes]) -> int:
    ends = time.monotonic() + GIVES_UP_S
    while time.monotonic() < ends and runner.poll() is None:
        said = Path(f"/proc/{runner.pid}/task/{runner.pid}/children").read_text().split()
        for each in said:
            # Before it is systemd it prepares the root.
            if Path(f"/proc/{each}/comm").read_text().strip() == "systemd":
                return int(each)
        time.sleep(0.2)
    raise WentWrong(f"the system did not boot (exit code {runner.poll()})")


def _until_started(system: Booted) -> None:
    ends, said = time.monotonic() + GIVES_UP_S, ""
    while time.monotonic() < ends:
        said = system.ran("systemctl", "is-system-running").said.strip()
        if said in ("running", "degraded"):
            return
        time.sleep(0.5)
    raise WentWrong(f"the system is still {said}")
