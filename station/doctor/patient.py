"""What every check is given: the machine, the settings as far as they can be read, and whether the station runs."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.clock import SystemClock
from station.config import SYNC_MARK, Settings
from station.core.moment import Moment
from station.doctor.life import Found, Life, life_of
from station.doctor.probe import Probe, below
from station.doctor.rights import Account, account, own_account
from station.doctor.unit import Unit, unit_of
from station.errors import SettingsError
from station.settings import read_settings

ROOT = "root"
"""Whom a unit that names nobody runs as."""


@dataclass(frozen=True, slots=True)
class Patient:
    """`settings` are None where they cannot be read, for the reasons in `problems`.

    `owner` is whom the station runs as, `by` who asks. `thorough`: what takes minutes is wanted too. `now` is this
    instant, its wall trusted where there is evidence for it.
    """

    probe: Probe
    config: Path
    settings: Settings | None
    problems: tuple[str, ...]
    unit: Unit | None
    station: Found
    owner: Account
    by: Account
    now: Moment
    thorough: bool = False

    def place(self, path: str) -> Path:
        """A place of the machine, such as /proc/mounts, where this patient's probe finds it."""
        return below(self.probe, Path(path))

    @property
    def known(self) -> Settings:
        """The settings of a check that is only made when they can be read."""
        assert self.settings is not None
        return self.settings


def patient(probe: Probe, config: Path, *, thorough: bool = False) -> Patient:
    """The patient as it is now. Nothing is raised: what cannot be had is left to the checks to say."""
    settings, problems = _settings(config)
    try:
        unit = unit_of(probe)
    except (TimeoutError, OSError):
        unit = None
    by = own_account()
    mark = SYNC_MARK if settings is None else settings.time.mark
    clock = SystemClock(below(probe, mark), battery_clocks=below(probe, Path("/sys/class/rtc")))
    return Patient(
        probe,
        config,
        settings,
        problems,
        unit,
        Found(Life.UNKNOWN) if settings is None else life_of(probe, settings.state_dir, unit),
        _owner(unit) or by,
        by,
        clock.now(),
        thorough,
    )


def _settings(config: Path) -> tuple[Settings | None, tuple[str, ...]]:
    try:
        return read_settings(config), ()
    except SettingsError as wrong:
        return None, tuple(wrong.problems)
    except (OSError, ValueError) as why:
        return None, (str(why),)


def _owner(unit: Unit | None) -> Account | None:
    """Whom the unit names; without a unit nobody but who asks is known to run it."""
    if unit is None or unit.load != "loaded":
        return None
    return account(unit.user or ROOT)
