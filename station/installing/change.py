"""Changing to another version: built beside, the bench asked, one rename, and back within a minute when it is not well.

Until the rename nothing of the old version is touched. From then on the new one is on trial: it has no mark that says
it has run here. Whoever finds a current version without it and an older one with it, finds a change that was broken
off, and ends it in the same way: the new one is started and proves well, or the old one comes back.
"""

from __future__ import annotations

from station.errors import StationError
from station.installing.asking import record_version
from station.installing.bench import Bench
from station.installing.building import is_whole
from station.installing.faults import InstallFault
from station.installing.settings_file import known
from station.installing.steps import carried_out
from station.installing.versions import Before, Version, Versions
from station.texts import t

OLD_PATIENCE_S = 20.0
"""It has run here before; together with the patience for the new one, and two stops, within a minute."""


def unfinished(versions: Versions, now: Version) -> Version | None:
    """The version to go back to, when the current one is still on trial; None when it is not."""
    return None if now.proved or now.before is None else versions.last_proved(now)


def replaced(bench: Bench, old: Version) -> list[str]:
    """Change from `old` to the source's version. Raises NotNow, or InstallFault once `old` is back."""
    askable = is_whole(bench.machine, old)
    if askable:
        bench.asking.nothing_runs(old)
    elif bench.service.at_work:
        raise InstallFault(
            t("Version {version} runs and cannot be asked whether a cast is at the bench.", version=old.name),
            t("When nothing is, stop it (systemctl stop tarebell) and run the same command again."),
        )
    new = bench.built(but=old)
    bench.asking.settings_hold(new)
    if why := bench.asking.read_ahead(new):
        bench.tell(t("Version {version} reads the record at its first start. {why}", version=new.name, why=why))
    backup = bench.asking.backup(old) if askable else None
    new.put_on_trial(Before(backup, record_version(known(bench.places).state)))
    was_at_work = bench.service.at_work
    if was_at_work:
        bench.service.stop()
    try:
        if askable:
            # Asked again now that nobody can begin a cast any more.
            bench.asking.nothing_runs(old)
        bench.versions.switch(new)
    except (StationError, KeyboardInterrupt):
        if was_at_work:
            bench.service.start()
        raise
    bench.tell(t("Version {version} is current.", version=new.name))
    return [t("Version {version} is current.", version=new.name), *changed(bench, new, old)]


def changed(bench: Bench, new: Version, old: Version) -> list[str]:
    """Let the new current version prove well, or go back to `old`. Raises InstallFault once `old` is back."""
    try:
        done = carried_out(bench.around(new), bench.tell)
        if bench.places.manager_runs:
            bench.service.start()
            if why := bench.service.ill(new, bench.url, bench.patience_s):
                raise InstallFault(why)
            new.prove()
            done += carried_out(bench.at_work(new), bench.tell)
    except (StationError, OSError, KeyboardInterrupt) as why:
        _back(bench, new, old, str(why))
    return done + carried_out([bench.too_old()], bench.tell)


def _back(bench: Bench, new: Version, old: Version, why: str) -> None:
    """The old version runs again, with the record as it was before the new one. Raises InstallFault, always."""
    bench.tell(t("Version {version} is not well. {why}", version=new.name, why=why))
    if bench.places.manager_runs:
        bench.service.stop()
    before = new.before
    record = record_version(known(bench.places).state)
    if before is not None and before.backup is not None and record != before.record:
        # First: while the new one is current, whoever is broken off here begins again.
        bench.asking.restore(old, before.backup)
        bench.tell(t("The record is as it was before. What the new version wrote is set aside beside it."))
    bench.versions.switch(old)
    carried_out(bench.around(old), bench.tell)
    if bench.places.manager_runs:
        bench.service.start()
        if still := bench.service.ill(old, bench.url, OLD_PATIENCE_S):
            raise InstallFault(
                t("Version {version} is current again and is not well either. {why}", version=old.name, why=still),
                t("`journalctl -u tarebell` says more."),
            )
    raise InstallFault(
        t(
            "Version {new} was not well, so version {old} runs again. {why}",
            new=new.name,
            old=old.name,
            why=why,
        ),
        t("Nothing is lost. `journalctl -u tarebell` says more."),
    )
