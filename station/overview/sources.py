"""Where the overview gets each part from: the desks and readers of one running station."""

from __future__ import annotations

import socket
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache

from station.address.interfaces import numbers
from station.address.reach import Address, addresses
from station.board import Board
from station.computer.health import Health
from station.config import ScaleSettings, Settings
from station.core.moment import Moment
from station.core.spans import about
from station.errors import Fault
from station.overview.bench_parts import LastCheck, climate_part, scale_part, signals_part, time_part
from station.overview.desk import Source
from station.overview.phone_parts import MessagesSeen, messages_part, phones_part
from station.overview.program_parts import benches_part, heat_part, program_part, supply_part
from station.overview.record_parts import backups_part, card_part, record_part
from station.phone.benches_pages import BenchesDesk
from station.phone.climate_view import ClimateDesk
from station.phone.record_view import RecordDesk
from station.phone.station_view import Fare, Part
from station.ports import TimeSource
from station.scale.checks import Checks
from station.scale.finding.profiles import Profiles


@dataclass(frozen=True, slots=True)
class Running:
    """A running station as the overview sees it. `note` and `speaks` are of the signals, `safe` tells of safe mode.

    `phones` counts paired devices; `messages` tells of those to a phone. None for what this station has not.
    """

    settings: Settings
    board: Board
    clock: TimeSource
    record: RecordDesk
    climate: ClimateDesk
    benches: BenchesDesk | None
    check: Callable[[], LastCheck | None]
    computer: Callable[[], Health]
    note: str
    speaks: bool
    version: str
    started: Moment
    safe: str
    phones: Callable[[], int] | None = None
    messages: Callable[[], MessagesSeen] | None = None


def sources(of: Running) -> Mapping[str, Source]:
    """The parts of that station for one look at it, in the order in which they are shown."""
    record, computer = cache(of.record.view), cache(of.computer)  # several parts tell of one view

    def scale() -> Part:
        seen, now = of.board.latest(), of.clock.now()
        if seen is None:
            return Part("Scale", Fare.UNKNOWN, "The bench has just started.", "/scale")
        return scale_part(seen.scale, of.check(), _day(now))

    def time() -> Part:
        seen = of.board.latest()
        return time_part(None if seen is None else seen.time)

    return {
        "Scale": scale,
        "Time": time,
        "Record": lambda: record_part(record()),
        "Backups": lambda: backups_part(record(), of.clock.now()),
        "Card": lambda: card_part(record()),
        "Climate": lambda: climate_part(of.climate.seen()),
        "Signals": lambda: signals_part(of.settings.signals, of.note, of.speaks),
        "Computer": lambda: heat_part(computer()),
        "Supply": lambda: supply_part(computer()),
        "Phones": lambda: phones_part(None if of.phones is None else of.phones()),
        "Messages": lambda: None if of.messages is None else messages_part(of.messages()),
        "Benches": lambda: benches_part(None if of.benches is None else of.benches.latest()),
        "Program": lambda: program_part(of.version, of.started, of.clock.now(), of.safe),
    }


def about_of(of: Running) -> Mapping[str, object]:
    """The program for somebody who helps."""
    ran_s = max(0.0, of.clock.now().boot_s - of.started.boot_s)
    return {"version": of.version, "running_for": about(float(int(ran_s))), "safe_mode": bool(of.safe)}


def page_addresses(settings: Settings, port: int) -> Sequence[Address]:
    """Where a phone finds the page of these settings; nobody else in the network is asked."""
    return addresses(settings.web.host, port, socket.gethostname(), numbers())


def last_check(checks: Checks, profiles: Profiles, settings: ScaleSettings) -> LastCheck | None:
    """The newest check of the scale in use; None without one."""
    try:
        port = profiles.in_force(settings).port
    except Fault:
        return None
    newest = checks.newest(port)
    return None if newest is None else LastCheck(newest.on, newest.due, newest.verdict)


def told_checks(checks: Checks) -> Sequence[Mapping[str, object]]:
    """The checks of all scales, their figures only."""
    figures = ("error_g", "corner_g", "drift_g_per_h", "settling_s", "temperature_c")
    return [
        {"on": one.on, "due": one.due, "verdict": one.verdict}
        | {name: getattr(one, name) for name in figures}
        | {"promise": asdict(one.promise)}
        for one in checks.all()[:20]
    ]


def _day(now: Moment) -> date | None:
    return now.wall.astimezone().date() if now.trusted else None
