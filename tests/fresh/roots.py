"""Roots: a Debian made from nothing in a folder, kept to be copied; and commands run in a copy that is not booted."""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.fresh.index import HANDED, NONE, Index, of_this_machine

ROOT = Path(__file__).resolve().parents[2]
PLACE = Path(os.environ.get("FRESH", "/var/tmp/tarebell-fresh"))
MIRROR = os.environ.get("FRESH_MIRROR", "http://deb.debian.org/debian")
SUITES = ("bookworm", "trixie")
POLITE = ("nice", "-n", "15")


class WentWrong(Exception):
    """A command in a root failed; with the end of what it said."""


@dataclass(frozen=True, slots=True)
class Root:
    """A Debian in a folder, and what pip is told in it."""

    folder: Path
    index: Index

    def run(self, *command: str, user: str = "root", network: bool = True, where: str = "/", log: bool = False) -> str:
        """What a command said. It has its own processes, /proc, /dev and /tmp; without `network`, loopback alone.

        `log`: said aloud as it comes, too. Raises WentWrong.
        """
        words = [*POLITE, *container(self, network=network), "--as-pid2", f"--user={user}", f"--chdir={where}"]
        return said_by([*words, "--", *command], log=log)

    def free(self) -> None:
        """Take the folder away."""
        shutil.rmtree(self.folder)

    def size_mb(self, below: str = "") -> float:
        """What lies there on the disk, in MB (a million bytes)."""
        said = subprocess.run(
            ["du", "-s", "-B1", self.folder / below], capture_output=True, text=True, check=True
        ).stdout
        return int(said.split()[0]) / 1e6


def last(said: str, mark: str) -> str:
    """The last line with `mark`; behind it the container may have its own say. Raises WentWrong."""
    found = [line for line in said.splitlines() if mark in line]
    if not found:
        raise WentWrong(f"no line with {mark}:\n{said[-3000:]}")
    return found[-1]


def container(root: Root, *, network: bool) -> list[str]:
    """systemd-nspawn on that root. Where no systemd runs this machine, there is nobody to register with."""
    words = ["systemd-nspawn", "--quiet", f"--directory={root.folder}", "--link-journal=no"]
    if not Path("/run/systemd/system").is_dir():
        words += ["--register=no", "--keep-unit"]
    words += [f"--bind-ro={each}:{HANDED}{each}" for each in root.index.paths]
    return words if network else [*words, "--private-network"]


def said_by(command: Sequence[str], *, log: bool = False) -> str:
    """What it said on both its outputs. Raises WentWrong."""
    with subprocess.Popen(
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
    ) as run:
        assert run.stdout is not None
        lines = []
        for line in run.stdout:
            lines.append(line)
            if log:
                print("   |", line, end="", flush=True)
    if run.returncode:
        raise WentWrong(f"exit code {run.returncode}: {' '.join(command)}\n{''.join(lines[-40:])}")
    return "".join(lines)


def blank(suite: str) -> Path:
    """The smallest Debian of that name, made once and then left alone."""
    made = PLACE / f"blank-{suite}"
    if not made.exists():
        half = PLACE / f"half-{suite}"
        if half.exists():
            shutil.rmtree(half)
        PLACE.mkdir(parents=True, exist_ok=True)
        began = time.monotonic()
        said_by([*POLITE, "debootstrap", "--variant=minbase", suite, str(half), MIRROR])
        half.rename(made)
        print(f"{suite} was made from nothing in {time.monotonic() - began:.0f} s")
    return made


def copied(suite: str, what: str, *, index: bool = True) -> Root:
    """A new copy of the blank root, for `what`; an older one is taken away."""
    folder = PLACE / f"{what}-{suite}"
    if folder.exists():
        shutil.rmtree(folder)
    subprocess.run(["cp", "-a", "--reflink=auto", blank(suite), folder], check=True)
    root = Root(folder, of_this_machine() if index else NONE)
    root.index.put_into(folder)
    return root


def put_source(root: Root, where: str, commit: str = "HEAD") -> None:
    """A clean checkout of the commit, as `git archive` gives it."""
    there = root.folder / where.lstrip("/")
    there.mkdir(parents=True)
    with subprocess.Popen(["git", "-C", ROOT, "archive", commit], stdout=subprocess.PIPE) as archive:
        subprocess.run(["tar", "-x", "-C", there], stdin=archive.stdout, check=True)
    if archive.returncode:
        raise WentWrong(f"git archive {commit} failed")
