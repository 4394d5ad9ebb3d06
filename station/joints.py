"""Small joints of a station: what one part asks of others, as functions."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import TimeoutError as NoAnswer
from datetime import date
from typing import BinaryIO, NoReturn

from station.board import Board
from station.climate.state import Climate
from station.config import ScaleSettings, Settings
from station.core.messages import Command
from station.core.workplace import Workplace
from station.errors import Fault, Refused
from station.inbox import Inbox
from station.metrology.promise import ScalePromise
from station.ports import TimeSource
from station.scale.checks import Checks, KeptCheck
from station.scale.finding.profiles import Profiles
from station.texts import N_, t

ANSWER_WITHIN_S = 2.0


class Unanswered(Fault):
    """The bench did not answer in time."""

    hint = N_("It may still do what was asked: look before asking again.")


def asking(inbox: Inbox) -> Callable[[Command], int | None]:
    """Hands a command to the bench and waits for its answer; raises Unanswered."""

    def ask(command: Command) -> int | None:
        try:
            return inbox.ask(command).result(ANSWER_WITHIN_S)
        except NoAnswer:
            raise Unanswered(t("The bench did not answer.")) from None

    return ask


def in_hand(board: Board) -> bool:
    """Whether a cast is in hand at the bench."""
    latest = board.latest()
    return latest is not None and latest.bench is not None


def today(clock: TimeSource) -> date | None:
    """The day at the bench; None while the wall clock is not trusted."""
    now = clock.now()
    return now.wall.astimezone().date() if now.trusted else None


def newest_check(checks: Checks, profiles: Profiles, settings: ScaleSettings) -> KeptCheck | None:
    """The newest check of the scale in use; None without one."""
    try:
        return checks.newest(profiles.in_force(settings).port)
    except Fault:
        return None


def promise(checks: Checks, profiles: Profiles, settings: ScaleSettings) -> ScalePromise | None:
    """What that check promises; None without one."""
    check = newest_check(checks, profiles, settings)
    return None if check is None else check.promise


def workplace_now(
    settings: Settings, checks: Checks, profiles: Profiles, climate: Callable[[], Climate], clock: TimeSource
) -> Callable[[], Workplace]:
    """What the workplace can hold, as planning asks for it: with the newest check, the air and the day of then."""
    bench = settings.bench

    def place() -> Workplace:
        air = climate()
        return Workplace(
            settings.scale.card,
            bench.cup,
            bench.ready_check,
            bench.weighing_s,
            promise=promise(checks, profiles, settings.scale),
            temperature_c=air.celsius,
            humidity_percent=air.humidity_percent,
            today=today(clock),
        )

    return place


def no_survey(_file: BinaryIO, _name: str) -> NoReturn:
    """In place of measuring a mesh, in safe mode. Raises Refused."""
    raise Refused(t("No mesh is measured in safe mode."), t("Stop the station and start it again to leave safe mode."))
