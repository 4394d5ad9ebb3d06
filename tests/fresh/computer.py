"""A root as a computer that is installed on, and what is asked of it again and again."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.fresh import measures
from tests.fresh.booted import Booted, Ran
from tests.fresh.roots import Root, WentWrong, copied

WITHIN = Path(__file__).parent / "within"


def computer(suite: str, what: str, *, index: bool = True, packages: tuple[str, ...] = ()) -> Root:
    """A root that can boot."""
    root = copied(suite, what, index=index)
    root.run("apt-get", "update", "--quiet")
    words = ("apt-get", "install", "--yes", "--quiet", "--no-install-recommends")
    root.run("env", "DEBIAN_FRONTEND=noninteractive", *words, "systemd-sysv", "dbus", "udev", *packages)
    shutil.copytree(WITHIN, root.folder / "within")
    return root


def install(system: Booted, folder: str, *words: str, code: int = 0) -> Ran:
    """The command as it is typed. Raises WentWrong when it does not end with `code`."""
    ran = system.ran("bash", f"{folder}/systemd/install", *words)
    if ran.code != code:
        raise WentWrong(f"exit code {ran.code} instead of {code}: {folder} {words}\n{ran.said[-6000:]}")
    return ran


def must(holds: bool, what: str) -> None:
    """Raises WentWrong with `what` unless it holds."""
    if not holds:
        raise WentWrong(what)


def version(system: Booted) -> str:
    """Which version runs, by the process; it must be the one that the link points at."""
    runs = measures.runs(system)
    must(current(system) == runs, f"{runs} runs, and {current(system)} is current")
    return runs


def current(system: Booted) -> str:
    """The version that the link points at."""
    return system.run("readlink", "/opt/tarebell/current").strip().removeprefix("versions/")
