"""The README's two commands on a blank Debian, word for word, as an ordinary user.

Each is cut at its last step of installing. Before the cut there is a network, for there packages are fetched; from the
cut on there is none but loopback: demo and tests need no Internet.
"""

from __future__ import annotations

import json
import re
import shutil
import time
from pathlib import Path

from tests.fresh.report import Report
from tests.fresh.roots import ROOT, Root, WentWrong, copied, last, put_source

USER = "maker"
HOME = f"/home/{USER}/tarebell"
WITHIN = Path(__file__).parent / "within"


def tried(suite: str) -> None:
    """Both commands in a new root. Raises WentWrong."""
    report = Report(f"README on a blank {suite}")
    packages, demo, tests = from_readme()
    root = workplace(suite, report, packages)
    shown(root, report, *demo)
    tested(root, report, *tests)
    root.free()


def workplace(suite: str, report: Report, packages: list[str]) -> Root:
    """A root with what the README has one install first, a user, and a clean checkout in the user's home."""
    root = copied(suite, "readme")
    with report.timed(f"apt-get install {' '.join(packages)}"):
        root.run("apt-get", "update", "--quiet")
        root.run("env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "install", "--yes", "--quiet", *packages)
    report.tell("Python", root.run("python3", "--version").split()[1])
    root.run("useradd", "--create-home", "--shell=/bin/bash", USER)
    put_source(root, HOME)
    shutil.copytree(WITHIN, root.folder / "within")
    root.run("chown", "-R", f"{USER}:", HOME)
    return root


def shown(root: Root, report: Report, installing: str, then: str) -> None:
    """The command that ends in a demo."""
    before = root.size_mb(HOME.lstrip("/"))
    with report.timed("first command, to the end of the installing"):
        typed(root, installing, network=True)
    report.tell("what it installs", f"{root.size_mb(HOME.lstrip('/')) - before:.0f} MB")
    told = json.loads(last(typed(root, f"python3 /within/watch_demo.py '{then}'", network=False), '{"'))
    report.tell("… and on, without a network, until the page answers", f"{told['page_s']:.1f} s")
    report.tell("… the cast that is on the page", told["cast"])
    report.tell("… ended by Ctrl-C with the code", told["code"])


def tested(root: Root, report: Report, installing: str, then: str) -> None:
    """The command that ends in the tests."""
    with report.timed("second command, to the end of the installing"):
        typed(root, installing, network=True)
    report.tell("the environment with what tests need", f"{root.size_mb(HOME.lstrip('/') + '/.venv'):.0f} MB")
    began = time.monotonic()
    said = typed(root, then, network=False, log=True)
    report.tell("… and on, without a network", f"{time.monotonic() - began:.0f} s: {last(said, ' passed')}")


def from_readme() -> tuple[list[str], tuple[str, str], tuple[str, str]]:
    """What the README has one install first; its two commands, each cut behind what fetches packages."""
    text = (ROOT / "README.md").read_text("utf-8")
    packages = re.search(r"On a bare Debian `sudo apt install ([^`]+)`", text)
    commands = re.findall(r"^    (python3 -m venv .*)$", text, re.MULTILINE)
    if packages is None or len(commands) != 2:
        raise WentWrong("the README has not the two commands any more, or says no packages")
    first, second = ((cut[0], cut[2]) for cut in (each.partition(" && .venv/bin/pip install ") for each in commands))
    return packages[1].split(), _again(first), _again(second)


def _again(cut: tuple[str, str]) -> tuple[str, str]:
    what, _, then = cut[1].partition(" && ")
    return f"{cut[0]} && .venv/bin/pip install {what}", then


def typed(root: Root, command: str, *, network: bool, log: bool = False) -> str:
    """A line as the user types it."""
    return root.run("bash", "-c", command, user=USER, network=network, where=HOME, log=log)
