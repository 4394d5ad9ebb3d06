"""What the pages are tested with: hand-made snapshots, a shelf in memory, a bench that keeps what it is asked."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from flask import Flask
from flask.testing import FlaskClient

from station.board import Board
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue, Urgency
from station.core.mass import Mass
from station.core.material import Basis, Component, Lot, Material, Mold, Times
from station.core.messages import BeginCast, Command, QueueCast
from station.core.mix_amount import Amount
from station.core.moment import Moment
from station.core.planning import planned
from station.core.snapshot import (
    AlarmView,
    Banner,
    BannerKind,
    BenchView,
    ColumnView,
    CueView,
    CuringView,
    DialView,
    Fill,
    ReadyView,
    ScaleState,
    ScaleView,
    Snapshot,
    StepState,
    StepView,
)
from station.core.standing import Standing
from station.errors import WrongField
from station.phone.app import Web, create_app
from station.phone.doorkeeper import Doorkeeper
from station.phone.shelf import Chosen, QueueLine, Recent
from station.phone.stream import Streams
from station.testing import ScriptedClock
from tests.phone.small_log import SmallLog
from tests.phone.small_molds import SmallBook
from tests.play import PLACE

G = Mass.grams
WALL = datetime(2026, 3, 2, 9, 14, tzinfo=UTC)
AT = Moment(500.0, "boot-1", WALL, True)
LIVE = ScaleView(ScaleState.LIVE, G("159.3"), 0.1, False, "", G("0.1"), 900)


def dial(kind: ClockKind, left_s: float, length_s: float, alarm: AlarmState = AlarmState.WAITING) -> DialView:
    """A clock with `left_s` to go."""
    due = WALL + timedelta(seconds=left_s)
    gone = min(1.0, max(0.0, 1 - left_s / length_s))
    return DialView(kind, gone, left_s, length_s, alarm is AlarmState.WAITING, alarm, due, False)


def column(net: str | None, fill: Fill = Fill.UNDER) -> ColumnView:
    """Component B into the cup: 108.0 g in a band of 106.9 to 109.1 g."""
    settling = fill is Fill.IN_BAND
    known = None if net is None else G(net)
    return ColumnView("B", "A", G("108.0"), G("106.9"), G("109.1"), known, fill, settling, "108.0 g = 120.0 g × 90/100")


BENCH = BenchView(
    number=14,
    material="Wrenfield foam (invented)",
    mold="kayak seat pad, left",
    total=G("228.0"),
    way="one cup",
    way_reason="One cup: the pot life leaves time to weigh both.",
    strip=(
        StepView("Weigh A", "120.0 g", StepState.DONE),
        StepView("Weigh B", "108.0 g", StepState.NOW),
        StepView("Mix", "40 s", StepState.AHEAD),
    ),
    title="Pour 108.0 g B",
    words="43.8 g to go on top.",
    column=column("64.2"),
    dials=(dial(ClockKind.POT_LIFE, 171.2, 240.0),),
    paused=False,
    press_means="it was poured",
    cautions=("Gloves on.",),
    items=(),
    notes=("Lot B is three months open.",),
)
CURING = (
    CuringView(
        12,
        "Wrenfield foam (invented)",
        "boot footbed",
        (dial(ClockKind.DEMOLD, 1520.0, 2400.0),),
        False,
        WALL,
        "Wait.",
        ReadyView(
            880.0, 2400.0, 23.0, 21.5, 1520.0, WALL + timedelta(seconds=1520), 600.0, WALL + timedelta(seconds=600)
        ),
    ),
    CuringView(
        11,
        "Wrenfield silicone (invented)",
        "paddle grip",
        (dial(ClockKind.DEMOLD, -125.0, 14400.0, AlarmState.SOUNDING),),
        False,
        WALL,
        "Ready to demold.",
    ),
)
ALARM = AlarmView(11, ClockKind.DEMOLD, 125.0, Urgency.STRONG, "Cast 11, paddle grip: demold now.")
BANNER = Banner(BannerKind.TIME, "The wall clock is not set yet.")
WEIGHING = Snapshot(1, AT, LIVE, BENCH, CURING, (ALARM,), CueView(Cue.NEAR, "Slowly.", 7), (BANNER,), 0)
QUIET = replace(WEIGHING, alarms=(), banners=())
FREE = Snapshot(1, AT, LIVE, None, (), (), None, (), 0)


def with_net(net: str | None, fill: Fill, seq: int = 1) -> Snapshot:
    """The weighing with another load in the cup."""
    return replace(QUIET, seq=seq, bench=replace(BENCH, column=column(net, fill)))


FOAM = Material(
    key="foam",
    title="Wrenfield foam (invented)",
    components=(Component("A", 100.0), Component("B", 90.0)),
    basis=Basis.WEIGHT,
    times=Times(pot_life_s=240, mix_s=40, pour_reserve_s=60, demold_s=2400),
    tolerance_percent=2.0,
    weigh_order=("A", "B"),
    pour_into="A",
    example=True,
)
PAD = Mold("pad", "kayak seat pad", G("228.0"))


class SmallShelf:
    """A `phone.shelf.Shelf` with one material and one mold."""

    def __init__(self) -> None:
        self.lots: list[dict[str, str]] = []
        self.queue: tuple[QueueLine, ...] = ()

    def materials(self) -> Sequence[Material]:
        return (FOAM,)

    def molds(self) -> Sequence[Mold]:
        return (PAD,)

    def lots_of(self, material: Material) -> Mapping[str, Sequence[str]]:
        return {}

    def plan(self, material: str, mold: str, total: str, lots: Mapping[str, str], by: str) -> BeginCast:
        if material != FOAM.key:
            raise WrongField("material", f"Material {material!r} is not on the shelf.")
        if total == "much":
            raise WrongField("amount", "Amount of mix: 'much' is no mass.", "Enter one such as 220 g.")
        if "other" in lots.values():
            raise WrongField("lot A", "Lot other is A of another material.", "Read the number again.")
        self.lots.append(dict(lots))
        shot = G(total) if total else G("228.0")
        return BeginCast(
            planned(
                FOAM,
                PAD,
                shot,
                place=PLACE,
                standing=Standing(),
                lots=tuple(Lot(component, number, G("640")) for component, number in lots.items()),
            ),
            by,
        )

    def for_queue(self, asked: Chosen, by: str, instead: int | None = None) -> QueueCast:
        begin = self.plan(asked.material, asked.mold, asked.amount, asked.lots, by)
        return QueueCast(begin.plan, Amount(begin.plan.total, "as typed"), None, asked.amount, by, instead)

    def waiting(self) -> Sequence[QueueLine]:
        return self.queue

    def queued(self, ticket: int) -> Chosen | None:
        return Chosen(FOAM.key, PAD.key, "180 g", {"A": "0417"}) if ticket in (1, 2, 3) else None

    def again(self, number: int) -> Chosen | None:
        return Chosen(FOAM.key, PAD.key, "228.0 g", {"A": "0418"}) if number == 40 else None

    def recent(self) -> Sequence[Recent]:
        return (Recent(40, PAD.title, FOAM.title),)


@dataclass
class Asked:
    """The bench as the pages know it: it remembers each command and answers, or refuses."""

    commands: list[Command] = field(default_factory=list)
    refuses: Exception | None = None
    answers: Callable[[Command], int | None] | None = None

    def __call__(self, command: Command) -> int | None:
        self.commands.append(command)
        if self.answers is not None:
            return self.answers(command)
        if self.refuses is not None:
            raise self.refuses
        return 14


@dataclass
class Station:
    """Pages over a board that a test writes itself."""

    board: Board
    asked: Asked
    shelf: SmallShelf
    clock: ScriptedClock
    codes: list[str]
    streams: Streams
    app: Flask
    door: Doorkeeper
    log: SmallLog

    def post(self, snapshot: Snapshot) -> None:
        self.board.post(snapshot)

    def client(self) -> FlaskClient:
        return self.app.test_client()

    def paired(self, device: str = "test phone") -> Visitor:
        visitor = Visitor(self.client())
        visitor.pair(self, device)
        return visitor


@dataclass
class Visitor:
    """A browser with its cookie and the token of the page that it has open."""

    client: FlaskClient
    token: str = ""

    def look(self, place: str = "/") -> str:
        page = self.client.get(place).get_data(as_text=True)
        found = re.search(r'name="token" content="([^"]+)"', page)
        assert found is not None, page
        self.token = found[1]
        return page

    def pair(self, station: Station, device: str = "test phone") -> None:
        self.look("/pair")
        assert self.send("/pair/ask").status_code == 200
        assert self.send("/pair", code=station.codes[-1], device=device).status_code == 303
        self.look()

    def send(self, place: str, **form: str):  # type: ignore[no-untyped-def]
        """A form as a page without a script sends it."""
        return self.client.post(place, data={"token": self.token, **form}, headers={"Origin": "http://localhost"})

    def ask(self, what: str, body: object):  # type: ignore[no-untyped-def]
        """What the page's script sends."""
        headers = {"Origin": "http://localhost", "X-Tarebell-Token": self.token}
        return self.client.post(f"/api/{what}", json=body, headers=headers)


@contextmanager
def opened_station(limit: int = 50, **parts: Any) -> Iterator[Station]:
    """A station's pages without a server; `parts` are what `Web` may be given besides."""
    board, asked, shelf, clock = Board(), Asked(), SmallShelf(), ScriptedClock()
    log = SmallLog()
    if "molds" in parts:
        parts.setdefault("mold_book", SmallBook())
    codes: list[str] = []
    streams = Streams(board, lambda: clock.now().boot_s, limit)
    door = Doorkeeper(clock, codes.append)
    web = Web(
        board=board,
        ask=asked,
        shelf=shelf,
        log=log,
        door=door,
        clock=clock,
        streams=streams,
        names=frozenset({"localhost", "bench.local"}),
        secret=b"for tests only, thirty-two bytes",
        station="Wrenfield Works (invented)",
        **parts,
    )
    yield Station(board, asked, shelf, clock, codes, streams, create_app(web), door, log)
    streams.end()
