"""Where the overview gets each part from: the desks and readers of one running station."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache

from station.board import Board
from station.computer.health import Health, health
from station.config import Settings
from station.core.moment import Moment
from station.core.spans import about
from station.overview.bench_parts import LastCheck, climate_part, scale_part, signals_part, time_part
from station.overview.desk import Source
from station.overview.papers import wrong_pins
from station.overview.phone_parts import messages_part, phones_part
from station.overview.program_parts import benches_part, heat_part, program_part, supply_part
from station.overview.record_parts import backups_part, card_part, record_part
from station.phone.benches_pages import BenchesDesk
from station.phone.climate_view import ClimateDesk
from station.phone.devices import Devices
from station.phone.push_view import PushDesk
from station.phone.record_view import RecordDesk
from station.phone.station_view import Fare, Part
from station.ports import TimeSource
from station.scale.checks import Checks, KeptCheck
from station.texts import t


@dataclass(frozen=True, slots=True)
class Fitted:
    """The signals: `note` tells that their pins are only simulated, `speaks` whether words are spoken."""

    note: str
    speaks: bool


@dataclass(frozen=True, slots=True)
class Program:
    """Which version runs, since when, and why it is in safe mode (empty when it is not)."""

    version: str
    started: Moment
    safe: str


@dataclass(frozen=True, slots=True)
class Running:
    """A running station as the overview sees it; None for what it leaves off. `phones` are the paired devices."""

    settings: Settings
    board: Board
    clock: TimeSource
    record: RecordDesk
    climate: ClimateDesk
    benches: BenchesDesk | None
    check: Callable[[], KeptCheck | None]
    phones: Callable[[], Devices]
    messages: PushDesk | None
    fitted: Fitted
    program: Program
    computer: Callable[[], Health] = health


def sources(of: Running) -> Mapping[str, Source]:
    """The parts of that station for one look at it, in the order in which they are shown."""
    program = of.program
    record, computer = cache(of.record.view), cache(of.computer)  # several parts tell of one view

    def scale() -> Part:
        seen, now = of.board.latest(), of.clock.now()
        if seen is None:
            return Part(t("Scale"), Fare.UNKNOWN, t("The bench has just started."), "/scale")
        check = of.check()
        last = None if check is None else LastCheck(check.on, check.due, check.verdict)
        return scale_part(seen.scale, last, _day(now))

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
        "Signals": lambda: signals_part(of.settings.signals, of.fitted.note, of.fitted.speaks, wrong_pins(of.settings)),
        "Computer": lambda: heat_part(computer()),
        "Supply": lambda: supply_part(computer()),
        "Phones": lambda: phones_part(len(of.phones())),
        "Messages": lambda: messages_part(None if of.messages is None else of.messages.view()),
        "Benches": lambda: benches_part(None if of.benches is None else of.benches.latest()),
        "Program": lambda: program_part(program.version, program.started, of.clock.now(), program.safe),
    }


def about_of(of: Running) -> Mapping[str, object]:
    """The program for somebody who helps."""
    program = of.program
    ran_s = max(0.0, of.clock.now().boot_s - program.started.boot_s)
    return {"version": program.version, "running_for": about(float(int(ran_s))), "safe_mode": bool(program.safe)}


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
