"""systemd/install --wheels on a booted Debian that has no network: first, again, and for another version.

The folder is filled in another root of the same suite that has a network, by an ordinary user, as the installer says.
"""

from __future__ import annotations

import shutil

from tests.fresh import measures, sources
from tests.fresh.booted import booted
from tests.fresh.computer import computer, install, must, version
from tests.fresh.index import NONE
from tests.fresh.report import Report
from tests.fresh.roots import Root

WHEELS = "/srv/wheels"


def tried(suite: str) -> None:
    """The whole course. Raises WentWrong at the first promise that does not hold."""
    report = Report(f"systemd/install --wheels on a booted {suite} without a network")
    filling = computer(suite, "filling", packages=("python3-venv",))
    now, later = sources.source(filling, None), sources.source(filling, "9.0.1")
    filling.run("useradd", "--create-home", "maker")
    filling.run("install", "--directory", "--owner=maker", WHEELS)
    with report.timed("the folder is filled"):
        filling.run("bash", f"{now}/systemd/install", "--fill-wheels", WHEELS, user="maker")
    report.tell("the folder", f"{filling.size_mb(WHEELS.lstrip('/')):.0f} MB")

    # A Raspberry Pi has this of its own; without a network nobody could fetch it.
    lonely = Root(computer(suite, "lonely", packages=("python3-venv",)).folder, NONE)
    (lonely.folder / "etc/pip.conf").unlink(missing_ok=True)
    shutil.copytree(filling.folder / "srv", lonely.folder / "srv", dirs_exist_ok=True)
    with booted(lonely, network=False) as system:
        first = install(system, now, "--wheels", WHEELS)
        system.phone("await", "1")
        report.tell("installed", f"{first.seconds:.0f} s")
        ran = install(system, now, "--wheels", WHEELS)
        report.tell("the same again", f"{ran.seconds:.0f} s")
        ran = install(system, later, "--upgrade", "--wheels", WHEELS)
        must(version(system).startswith("9.0.1"), f"{version(system)} runs")
        report.tell("upgraded", f"{ran.seconds:.0f} s")
        must(system.shown(measures.UNIT, "ActiveState") == "active", "the station does not run")
    filling.free()
    lonely.free()
