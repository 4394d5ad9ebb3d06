"""Installing, and the same again as a repair: whatever is missing or changed is put right, the rest is left alone."""

from __future__ import annotations

from station.errors import Refused
from station.installing.bench import Bench
from station.installing.building import is_whole
from station.installing.change import changed, replaced, unfinished
from station.installing.steps import Step, carried_out
from station.installing.versions import Version
from station.texts import t


def installed(bench: Bench, *, upgrade: bool = False) -> list[str]:
    """Bring the computer to where the source runs on it; what was done. Raises Refused or InstallFault.

    Another version that is current gives way only when an `upgrade` is asked for.
    """
    done = bench.packages() + carried_out([bench.leftovers()], bench.tell)
    now = bench.versions.current()
    if now is not None and (older := unfinished(bench.versions, now)) is not None:
        done += changed(bench, now, older)
        now = bench.versions.current()
    if now is None:
        now = bench.built()
    elif now.digest != bench.source.digest:
        if not upgrade:
            raise Refused(
                t("Version {version} is installed, and this folder holds another one.", version=now.name),
                t("Run the same command with --upgrade to change to it."),
            )
        return done + replaced(bench, now)
    elif not is_whole(bench.machine, now):
        bench.tell(t("Version {version} does not start any more; it is built anew.", version=now.name))
        return done + replaced(bench, now)
    return done + _in_place(bench, now)


def _in_place(bench: Bench, version: Version) -> list[str]:
    current = Step(
        t("Version {version} is current.", version=version.name),
        lambda: not bench.versions.is_current(version),
        lambda: bench.versions.switch(version),
    )
    steps = [bench.settings(), current, *bench.around(version), *bench.at_work(version), bench.too_old()]
    return carried_out(steps, bench.tell)
