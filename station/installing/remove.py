"""Taking the station away again: the program and what is around it. Settings and record only when asked for."""

from __future__ import annotations

from pathlib import Path

from station.installing.bench import Bench
from station.installing.building import is_whole
from station.installing.machine import required
from station.installing.places import UNIT, USER
from station.installing.service import QUICK_S
from station.installing.settings_file import known
from station.installing.steps import Step, carried_out
from station.installing.system_files import reread_ports
from station.installing.writing import points_at, taken_away
from station.texts import t


def removed(bench: Bench, *, data: bool) -> list[str]:
    """Take it away; what was done. Raises NotNow while a cast is at the bench or a clock runs, and InstallFault."""
    places, now = bench.places, bench.versions.current()
    if now is not None and is_whole(bench.machine, now):
        bench.asking.nothing_runs(now)
    state = known(places).state
    steps = [
        Step(
            t("The station is stopped and does not start any more."),
            lambda: bench.service.enabled or bench.service.at_work,
            lambda: _end(bench),
        ),
        *(_without(place) for place in _around(bench)),
        # The link last of the program: as long as it is there, the program is whole.
        _without(places.current),
        _without(places.opt),
    ]
    if data:
        steps += [_without(state), _without(places.settings.parent), _without_user(bench)]
    done = carried_out(steps, bench.tell)
    if done and places.manager_runs:
        bench.service.reload()
        reread_ports(bench.machine, places)
    if not data:
        bench.tell(
            t("Settings stay in {settings}, record and backups in {state}.", settings=places.settings, state=state)
        )
    return done


def _around(bench: Bench) -> list[Path]:
    places = bench.places
    around = [places.announcement, *places.fixed().values()]
    if points_at(places.no_braille, "/dev/null"):
        around.append(places.no_braille)
    if points_at(places.command, f"{places.seen(places.current)}/bin/tarebell"):
        around.append(places.command)
    return around


def _end(bench: Bench) -> None:
    if bench.places.manager_runs:
        bench.service.stop()
    required(bench.machine, "systemctl", "disable", "--quiet", UNIT, limit_s=QUICK_S)


def _without(place: Path) -> Step:
    return Step(
        t("{place} is removed.", place=place),
        lambda: place.is_symlink() or place.exists(),
        lambda: taken_away(place),
    )


def _without_user(bench: Bench) -> Step:
    return Step(
        t("The station's user is removed."),
        lambda: bench.machine.run("id", USER, limit_s=QUICK_S).well,
        lambda: _userdel(bench),
    )


def _userdel(bench: Bench) -> None:
    required(bench.machine, "userdel", USER, limit_s=QUICK_S)
