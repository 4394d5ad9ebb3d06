"""The loop's order: decide, write down, become, make known. The chirp is the receipt."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from datetime import timedelta
from itertools import pairwise

import pytest

from station.board import Board
from station.core import messages as msg
from station.core.cues import Cue, Urgency
from station.core.effects import KeepTrace
from station.core.events import Accepted, Entry, StationStarted
from station.core.mass import Mass
from station.core.planning import planned
from station.core.snapshot import BannerKind
from station.errors import Refused
from station.inbox import Envelope, Inbox
from station.loop import Loop
from station.testing import MemoryLedger, RecordingSignals, ScriptedClock
from tests.play import CARD, GRIP, PLACE, SILICONE

DISK_FULL = "The disk is full."


class Watched(MemoryLedger):
    """Notes, at each write, how many cues had sounded by then."""

    def __init__(self, signals: RecordingSignals) -> None:
        super().__init__()
        self.signals = signals
        self.order: list[tuple[type, int]] = []

    def write(self, entries: Sequence[Entry], traces: Sequence[KeepTrace] = ()) -> None:
        super().write(entries, traces)
        self.order += [(type(entry.event), self.signals.cues.count(Cue.ACCEPTED)) for entry in entries]


class Hands:
    """A loop without a thread: each message is dealt with before the next."""

    def __init__(self) -> None:
        self.clock, self.signals, self.board = ScriptedClock(), RecordingSignals(), Board()
        self.ledger = Watched(self.signals)
        self.inbox = Inbox(self.clock)
        self.loop = self.fresh()
        self.load = 0.0

    def fresh(self) -> Loop:
        loop = Loop(
            clock=self.clock,
            ledger=self.ledger,
            signals=self.signals,
            inbox=self.inbox,
            board=self.board,
            card=CARD,
            version="test",
        )
        loop.start()
        loop.handle(Envelope(msg.ScaleFound("test"), self.clock.now()))
        return loop

    def send(self, message: msg.Message) -> None:
        self.loop.handle(Envelope(message, self.clock.now()))

    def stand(self, grams: float, seconds: float = 2.5) -> None:
        self.load = grams
        for _ in range(round(seconds * 10)):
            self.clock.advance(0.1)
            self.send(msg.Reading(Mass.nearest(grams), msg.Stability.STABLE))

    def weighed(self) -> None:
        standing = self.loop.standing()
        plan = planned(SILICONE, GRIP, Mass.grams(220), place=PLACE, standing=standing)
        self.send(msg.BeginCast(plan, "test"))
        self.stand(24.3)
        self.stand(224.3, 4)


@pytest.fixture
def hands():
    return Hands()


def test_the_accept_cue_sounds_only_after_the_record_is_on_disk(hands):
    hands.weighed()
    assert (Accepted, 0) in hands.ledger.order
    assert hands.signals.cues.count(Cue.ACCEPTED) == 1


def test_a_disk_that_takes_nothing_is_heard_and_seen_and_the_bench_goes_on(hands):
    hands.stand(0)
    hands.ledger.failing = DISK_FULL
    hands.weighed()
    assert Cue.ACCEPTED not in hands.signals.cues
    assert Cue.KEPT_IN_MEMORY in hands.signals.cues
    seen = hands.board.latest()
    assert seen.unsaved >= 3
    assert [b.kind for b in seen.banners] == [BannerKind.RECORD]
    assert len(hands.loop.standing().bench.accepted) == 1


def test_what_waited_in_memory_is_written_in_its_order_when_the_disk_is_back(hands):
    hands.ledger.failing = DISK_FULL
    hands.weighed()
    hands.ledger.failing = ""
    hands.stand(224.3, 7)
    seen = hands.board.latest()
    assert seen.unsaved == 0
    assert seen.banners == ()
    kinds = [type(entry.event).__name__ for entry in hands.ledger.written]
    assert kinds == ["StationStarted", "CastBegun", "CupTared", "Accepted", "Recomputed", "PourLearned"]
    assert hands.fresh().standing().casts == hands.loop.standing().casts


def test_a_refused_press_sounds_and_changes_nothing(hands):
    before = hands.loop.standing()
    answer = hands.inbox.ask(msg.Pressed(msg.Press.SHORT, "pedal"))
    hands.loop.handle(hands.inbox.next(1))
    with pytest.raises(Refused, match="Nothing waits"):
        answer.result(0)
    assert hands.signals.cues[-1] is Cue.REFUSED
    assert hands.loop.standing() is before


def test_heartbeats_are_written_only_while_a_clock_runs_and_at_most_once_a_minute(hands):
    beats = []
    hands.ledger.heartbeat = beats.append
    hands.stand(0, 120)
    assert beats == []
    hands.weighed()
    hands.send(msg.Pressed(msg.Press.SHORT, "pedal"))
    hands.stand(224.3, 1)
    hands.stand(234.3, 2)
    hands.stand(244.3, 3)
    for _ in range(300):
        hands.clock.advance(1)
        hands.send(msg.Tick())
    gaps = [later.boot_s - earlier.boot_s for earlier, later in itertools.pairwise(beats)]
    assert len(beats) >= 4
    assert min(gaps) >= 60


def test_an_alarm_is_held_until_it_is_acknowledged_and_again_after_a_restart(hands):
    hands.weighed()
    hands.send(msg.Pressed(msg.Press.SHORT, "pedal"))
    hands.stand(224.3, 1)
    hands.stand(234.3, 2)
    hands.stand(244.3, 3)
    hands.clock.advance(1700)
    hands.send(msg.Tick())
    assert hands.signals.holds[-1] is Urgency.FIRST
    hands.clock.advance(61)
    hands.fresh()
    assert hands.signals.holds[-1] is Urgency.STRONG
    assert StationStarted in {type(entry.event) for entry in hands.ledger.written}


def test_a_told_time_reaches_the_clock_the_page_and_the_evidence_and_comes_back_after_a_restart() -> None:
    hands = Hands()
    right = hands.clock.now().wall
    hands.clock.reboot(600, trusted=False)
    hands.loop = hands.fresh()
    beats = len(hands.ledger.beats)
    hands.send(msg.TellTime(right + timedelta(seconds=630), "page (phone)"))
    latest = hands.board.latest()
    assert latest is not None
    assert latest.at.by_hand
    assert [beat.by_hand for beat in hands.ledger.beats[beats:]] == [True]
    offset = hands.clock.now().wall.timestamp() - hands.clock.now().boot_s
    hands.clock.told(0.0)  # the process forgets
    hands.loop = hands.fresh()
    assert hands.clock.now().wall.timestamp() - hands.clock.now().boot_s == pytest.approx(offset, abs=1e-3)


def test_while_a_clock_runs_there_is_a_sign_of_life_a_minute_and_none_otherwise() -> None:
    hands = Hands()
    for _ in range(600):
        hands.clock.advance(1)
        hands.send(msg.Tick())
    assert hands.ledger.beats == []
    hands.weighed()
    hands.send(msg.Pressed(msg.Press.SHORT, "pedal"))
    for tenths in range(0, 60, 4):
        hands.stand(224.3 + tenths / 10, 0.2)
    assert hands.loop.standing().casts[0].contact is not None
    began = len(hands.ledger.beats)
    for _ in range(1200):
        hands.clock.advance(0.5)
        hands.send(msg.Tick())
    times = [beat.boot_s for beat in hands.ledger.beats[began - 1 :]]
    assert len(times) >= 10
    assert all(60.0 <= later - earlier <= 60.5 for earlier, later in pairwise(times))
