"""Days at a whole station with faults of all kinds: one seed gives one story, in lock step, as fast as it will go.

The station is the real one, from bytes on a pseudo-terminal to the record's file. The person is simulated, the clock is
moved frame by frame. Faults: pulled cables, garbage on the line, wall clocks that jump, power cuts with and without a
known length, a card that takes nothing, a card that does not answer, damage to the record, and its restoring.
"""

from __future__ import annotations

import random
import threading
from collections import Counter
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import Station, assembled
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.clocks import ClockKind
from station.core.effects import KeepTrace, Say
from station.core.events import Entry
from station.core.messages import Abort, BeginCast, Command, Demold, Press, Pressed
from station.core.moment import Moment
from station.core.snapshot import ScaleState, Snapshot
from station.errors import LedgerFault, Refused
from station.simulated.caster import Caster
from station.simulated.load_cell import LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from station.store.chain import Row
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.system.whole import CARD

FRAME_S = 0.1
WITHIN_S = 60.0
DOUBTS_S = 0.1
"""So long a doubted line is waited for before the scale sends the next one."""
MOST_DOUBTED = 60
"""Garbage is forgotten after 2.5 s, which are 25 lines."""
STUCK_FRAMES = 6000
FAR_TOO_MUCH_G = 1500
HOLDS_STILL_FRAMES = 100
CASTS = (("example-silicone", "paddle-grip"), ("example-foam", "kayak-seat-pad"))


@dataclass
class Card:
    """The card as the faults make it: `full` refuses writes, a cleared `answers` makes them wait."""

    full: bool = False
    answers: threading.Event = field(default_factory=threading.Event)

    def ledger(self) -> type[SqlLedger]:
        """A ledger on this card."""
        card = self

        class OnThisCard(SqlLedger):
            def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> list[Row]:
                assert card.answers.wait(WITHIN_S)
                if card.full:
                    raise LedgerFault("The disk is full.", "Free some space.")
                return super().write(entries, traces)

        return OnThisCard


class Month:
    """Runs days; keeps every entry that the bench has made known, and counts what happened.

    `one_process`: without the faults that end the process, so that what one process gathers in a month can be seen.
    """

    def __init__(self, folder: Path, seed: int, one_process: bool = False) -> None:
        self.one_process = one_process
        self.state, self.chance = folder / "state", random.Random(seed)
        self.clock, self.card = ScriptedClock(), Card()
        self.card.answers.set()
        self.port = PtyPort(folder / "scale")
        self.voice = Voice("status-commas", Delivery.STREAM)
        self.cell = LoadCell(CARD, 1 / FRAME_S, seed=seed)
        self.person = Caster(seed, FRAME_S)
        self.load: float | None = None
        self.blind = 0
        self.known: list[Entry] = []
        self.happened: Counter[str] = Counter()
        self.doubted = 0
        self.settings = Settings(
            name="Test bench",
            state_dir=self.state,
            scale=ScaleSettings(port=str(self.port.path), family="status-commas", card=CARD),
            signals=SignalSettings(speech=False),
            climate=ClimateSettings("none", humidity=False),
            web=WebSettings("127.0.0.1", 0),
        )
        self.station: Station
        self.failure: BaseException | None = None

    # The process

    def start(self) -> None:
        """Switch on, and wait until the scale is read."""
        ready = threading.Event()

        def life() -> None:
            try:
                with assembled(
                    self.settings,
                    self.clock,
                    pin_factory=MockFactory(pin_class=MockPWMPin),
                    account=self._account,
                    announce=lambda _: None,
                    ticks=False,
                    ledger=self.card.ledger(),
                ) as station:
                    self.station = station
                    ready.set()
                    station.loop.run()
            except BaseException as failure:
                self.failure = failure
            finally:
                ready.set()

        self.thread = threading.Thread(target=life, name="station")
        self.thread.start()
        assert ready.wait(WITHIN_S)
        if self.failure is not None:
            raise self.failure
        if self.load is None:  # the person outlives the station
            self.hands = self.person.hands(self.until_read())
            self.load = next(self.hands)
        else:
            self._until_live()

    def stop(self) -> None:
        """End the process; the disk has come back by then, for what a cut takes with it is tested elsewhere."""
        self.card.full = False
        self.card.answers.set()
        self.station.inbox.end()
        self.thread.join(WITHIN_S)
        assert not self.thread.is_alive()
        if self.failure is not None:
            raise self.failure

    def _account(self, what: Entry | Say, at: Moment) -> None:
        if isinstance(what, Entry):
            self.known.append(what)

    def seen(self) -> Snapshot:
        latest = self.station.board.latest()
        assert latest is not None
        return latest

    def until_read(self) -> Snapshot:
        """Send the present load until the station believes the scale."""
        for _ in range(600):
            self.port.emit(self.voice.line(Decimal("0.0"), True))
            seen = self.station.board.newer_than(-1, 0)
            if seen is not None and seen.scale.state is ScaleState.LIVE:
                return seen
            threading.Event().wait(0.02)
        raise AssertionError("the scale was not read")

    def ask(self, command: Command) -> int | None:
        return self.station.inbox.ask(command).result(WITHIN_S)

    def frame(self, seconds: float = FRAME_S) -> Snapshot:
        """One line of the scale, dealt with; after garbage the station may doubt some first, and the scale sends on."""
        self.clock.advance(seconds)
        before = self.seen().scale.frames
        self._send()
        seen, doubted = self.seen(), 0
        while seen.scale.frames <= before:
            in_doubt = seen.scale.state is ScaleState.LOST
            newer = self.station.board.newer_than(seen.seq, DOUBTS_S if in_doubt else WITHIN_S)
            if newer is not None:
                seen = newer
                continue
            doubted += 1
            stuck = f"a line was not dealt with: {seen.scale}, {self.station.record.view()}"
            assert in_doubt, stuck
            assert doubted <= MOST_DOUBTED, stuck
            self.clock.advance(FRAME_S)
            self._send()
        self.doubted += doubted
        return seen

    def _send(self) -> None:
        shown = self.cell.step(FRAME_S, self.load or 0.0)
        self.port.emit(self.voice.line(shown.grams, shown.stable, shown.overload))

    # The work

    def move(self, seen: Snapshot) -> None:
        """The person's next move. Nobody pours on for long while no number is shown: the cup has to be known again."""
        blind = seen.bench is not None and seen.bench.column is not None and seen.bench.column.net is None
        self.blind = self.blind + 1 if blind else 0
        if not 0 < self.blind < HOLDS_STILL_FRAMES:
            self.load = self.hands.send(seen)

    def cast(self, faults: float) -> None:
        """One cast from plan to demold, given up when it gets nowhere. `faults` is the chance of one in each frame."""
        for _ in range(3):  # the person sees that the bench is free
            self.move(self.frame())
        material, mold = self.chance.choice(CASTS)
        with suppress(Refused):
            begin = self.station.library.plan(material, mold, "", {}, "month")
            assert isinstance(begin, BeginCast)
            self.ask(begin)
        seen, frames, step = self.frame(), 0, ""
        while seen.bench is not None:
            frames = 0 if seen.bench.title != step else frames + 1
            step = seen.bench.title
            if frames > STUCK_FRAMES or (self.load or 0) > FAR_TOO_MUCH_G:
                self.give_up(seen.bench.number)
                break
            self.move(seen)
            for press in self.person.presses:
                with suppress(Refused):
                    self.ask(Pressed(press, "pedal"))
            self.person.presses.clear()
            seen = self.frame()
            if self.chance.random() < faults:
                self.fault()
                seen = self.seen()
        self.happened["casts"] += 1
        self.cure(faults * 20)

    def give_up(self, number: int) -> None:
        """The simulated person got nowhere, or has poured on and on: the cast is lost, another person comes."""
        self.happened["given up"] += 1
        self.ask(Abort(number, "got nowhere", "month"))
        self.load = 0.0
        self._until_live()
        self.person = Caster(self.chance.randrange(10**6), FRAME_S)
        self.hands = self.person.hands(self.frame())
        self.load = next(self.hands)

    def cure(self, faults: float) -> None:
        """Time leaps until the bells ring; somebody answers them."""
        seen = self.seen()
        while seen.curing:
            for alarm in seen.alarms:
                with suppress(Refused):
                    self.ask(Pressed(Press.SHORT, "pedal"))
                    if alarm.clock is ClockKind.DEMOLD:
                        self.ask(Demold(alarm.number, "month"))
            left = [dial.left_s for cast in seen.curing for dial in cast.dials if dial.running and dial.left_s > 0]
            self.move(seen)
            seen = self.frame(max(FRAME_S, min(left, default=FRAME_S) / 5))
            if self.chance.random() < faults:
                self.fault()
                seen = self.seen()

    def day(self, casts: int, faults: float) -> None:
        """A working day and its night."""
        for _ in range(casts):
            self.cast(faults)
        self.clock.advance(8 * 3600)
        self.frame()

    # The faults

    def fault(self) -> None:
        """One fault, chosen by chance, and its end."""
        kinds = [self.unplug, self.garbage, self.step_wall, self.full, self.slow]
        if not self.one_process:
            kinds += [self.power, self.damage]
        kind = self.chance.choice(kinds)
        self.happened[kind.__name__] += 1
        kind()

    def unplug(self) -> None:
        self.port.unplug()
        for _ in range(600):
            if self.seen().scale.state is ScaleState.LOST:
                break
            threading.Event().wait(0.02)
        assert self.seen().scale.gross is None, "a number is shown without a scale"
        self.clock.advance(5)
        self.port.plug_in()
        self._until_live()

    def _until_live(self) -> None:
        for _ in range(600):
            self._send()
            if self.seen().scale.state is ScaleState.LIVE:
                return
            threading.Event().wait(0.02)
        raise AssertionError(f"the scale was not found again: {self.seen().scale}, load {self.load}")

    def garbage(self) -> None:
        self.port.emit(self.chance.randbytes(self.chance.randint(1, 40)) + b"\r\n")

    def step_wall(self) -> None:
        self.clock.step_wall(self.chance.choice((-30 * 86400, -3600, 3600, 365 * 86400)))

    def power(self) -> None:
        self.stop()
        self.clock.reboot(self.chance.choice((2.0, 60.0, 4000.0)), trusted=self.chance.random() < 0.6)
        self.start()
        if self.chance.random() < 0.7:
            self.clock.trust()

    def full(self) -> None:
        self.card.full = True
        for _ in range(self.chance.randint(1, 80)):
            self.move(self.frame())
        self.card.full = False
        for _ in range(80):
            self.move(self.frame())

    def slow(self) -> None:
        """In lock step the bench waits for the card; what it must not do is lose or double anything."""
        self.card.answers.clear()
        threading.Timer(0.05, self.card.answers.set).start()
        self.move(self.frame())

    def damage(self) -> None:
        """A spot of the file is spoilt while the station is off; found at the start or by the check, and mended."""
        with suppress(LedgerFault):
            self.station.record.back_up("", "before the damage")
        self._mend()
        self.stop()
        _spoil(self.state / "record.db", self.chance)
        self.clock.reboot(30.0)
        self.start()
        self.station.record.check_record()
        self._mend()

    def _mend(self) -> None:
        if self.station.record.view().damage:
            self.station.record.restore("month")
            self.happened["restored"] += 1


def _spoil(record: Path, chance: random.Random) -> None:
    content = bytearray(record.read_bytes())
    start = chance.randrange(4096, len(content)) if len(content) > 4096 else 0
    content[start : start + 200] = chance.randbytes(len(content[start : start + 200]))
    record.write_bytes(content)
