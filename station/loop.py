"""The loop: the only owner of the bench. Take, decide, write down, become, make known: in that order.

The chirp is the receipt: a cue that says "accepted" sounds only after the record is on disk. When the disk
does not take it, the entries wait in memory in their order, the person hears something else, and the bench
goes on.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from dataclasses import replace

from station.board import Board
from station.core import messages as msg
from station.core.alarms import any_runs, next_due_s, urgency
from station.core.bench import Bench, step
from station.core.cues import Cue
from station.core.effects import Effect, KeepTime, KeepTrace, Record, Say
from station.core.events import Entry
from station.core.guidance.task import Leading
from station.core.lanes import Lane
from station.core.leading import pace_now, stop_due_s
from station.core.material import ScaleCard
from station.core.moment import Moment
from station.core.snapshot import Banner, ScaleState, Snapshot
from station.core.standing import Standing
from station.core.turn import LED
from station.core.views import snapshot
from station.errors import LedgerFault, SlowDisk, StationError
from station.inbox import End, Envelope, Inbox
from station.ports import Ledger, Signals, TellableClock
from station.texts import t

log = logging.getLogger("tarebell.loop")

HEARTBEAT_S = 0.25
EVIDENCE_S = 60.0
RETRY_S = 5.0
LONG_S = 3600.0
SHORTCUT_ROWS = 1000


class Loop:
    """Joins the pure bench with ledger, signals and board."""

    def __init__(
        self,
        *,
        clock: TellableClock,
        ledger: Ledger,
        signals: Signals,
        inbox: Inbox,
        board: Board,
        card: ScaleCard,
        version: str,
        news: Callable[[], tuple[Banner, ...]] = tuple,
        lane: Lane | None = None,
        leading: Leading = LED,
        account: Callable[[Entry | Say, Moment], None] | None = None,
        ticks: bool = True,
    ) -> None:
        """`ticks` false: time moves only with what comes in, for a simulation in lock step.

        `news` gives banners of what lies outside the loop; it must not wait. `lane`: which cast numbers are its own.
        """
        self._clock, self._ledger, self._signals, self._inbox, self._board = clock, ledger, signals, inbox, board
        self._card, self._version = card, version
        self._account, self._ticks = account, ticks
        self._news = news
        self._bench = Bench(lane=lane, leading=leading)
        self._seq = 0
        self._waiting: list[Entry] = []
        self._waiting_traces: list[KeepTrace] = []
        self._retry_at_s = 0.0
        self._evidence_at_s = float("-inf")
        self._fault = ""
        self._since_shortcut = 0
        self.turns = 0
        """Messages dealt with, ticks and refusals among them; for a watchdog."""

    def start(self, reading: Callable[[int], object] = lambda _: None) -> None:
        """Come back to where the journal left off; what fell due meanwhile sounds at once.

        `reading` is told how many rows of a long journal are read.
        """
        last_seen = self._ledger.last_seen()
        self._bench = replace(self._bench, standing=self._ledger.standing(reading))
        self.handle(Envelope(msg.Started(last_seen, self._version), self._clock.now()))

    def standing(self) -> Standing:
        """The durable state as it is now: a frozen value that any thread may keep."""
        return self._bench.standing

    def run(self) -> None:
        """Until somebody ends the inbox. Raises what another thread died of, if that is why."""
        while True:
            taken = self._inbox.next(self._patience_s())
            if isinstance(taken, End):
                self._last_writing()
                if taken.bug is not None:
                    raise taken.bug
                return
            self.handle(taken)

    def _patience_s(self) -> float:
        if not self._ticks:
            return LONG_S
        now = self._clock.now()
        standing, pan = self._bench.standing, self._bench.pan
        due = (HEARTBEAT_S, next_due_s(standing, now), stop_due_s(standing, pan, now))
        return max(0.0, min(s for s in due if s is not None))

    def handle(self, envelope: Envelope) -> None:
        """One message, all the way."""
        self.turns += 1
        try:
            after, effects = step(self._bench, envelope.message, envelope.at)
        except StationError as refusal:
            self._refuse(envelope, refusal)
            return
        entries = [Entry(effect.event, envelope.at) for effect in effects if isinstance(effect, Record)]
        traces = [effect for effect in effects if isinstance(effect, KeepTrace)]
        written = self._write_down(entries, traces, envelope.at)
        self._bench = after
        if written and self._since_shortcut >= SHORTCUT_ROWS:
            self._keep_standing()
        self._note_record(written, envelope.at)
        now = self._told(effects, envelope.at)
        self._make_known(effects, entries, written, now)
        if envelope.answer is not None:
            self._answer(envelope.answer)
        self._evidence(now)

    def _refuse(self, envelope: Envelope, refusal: StationError) -> None:
        if envelope.answer is not None:
            envelope.answer.set_exception(refusal)
        else:
            log.info("refused what=%s why=%s", type(envelope.message).__name__, refusal)
        if isinstance(envelope.message, msg.Pressed):
            self._signals.cue(Cue.REFUSED, refusal.sentence())
            self._post(envelope.at)

    def _answer(self, answer: Future[int | None]) -> None:
        cast = self._bench.standing.bench
        answer.set_result(None if cast is None else cast.number)

    def _write_down(
        self, entries: Sequence[Entry], traces: Sequence[KeepTrace], now: Moment, at_once: bool = False
    ) -> bool:
        """Whether the record now holds everything. Waiting entries go first: their order is the chain's."""
        self._waiting += entries
        self._waiting_traces += traces
        if not self._waiting and not self._waiting_traces:
            return True
        if not entries and not at_once and now.boot_s < self._retry_at_s:
            return False
        try:
            self._ledger.write(tuple(self._waiting), tuple(self._waiting_traces))
        except LedgerFault as fault:
            self._retry_at_s = now.boot_s + (0.0 if isinstance(fault, SlowDisk) else RETRY_S)
            if fault.sentence() != self._fault:
                log.error("record not written waiting=%d why=%s", len(self._waiting), fault)
            self._fault = fault.sentence()
            return False
        self._since_shortcut += len(self._waiting)
        self._waiting, self._waiting_traces = [], []
        return True

    def _last_writing(self) -> None:
        """Before the end: what still waits, and a shortcut for the next start."""
        if not self._write_down((), (), self._clock.now(), at_once=True):
            log.error("the loop ends before all is on disk waiting=%d why=%s", len(self._waiting), self._fault)
            return
        self._keep_standing()

    def _keep_standing(self) -> None:
        self._since_shortcut = 0
        try:
            self._ledger.keep_standing(self._bench.standing)
        except LedgerFault as fault:
            log.warning("no shortcut for the next start why=%s", fault)

    def _note_record(self, written: bool, now: Moment) -> None:
        if written and self._bench.record_fault:
            self._bench, _ = step(self._bench, msg.RecordBack(self._bench.unsaved), now)
            self._fault = ""
            log.info("record written again")
        elif not written:
            self._bench, _ = step(self._bench, msg.RecordTrouble(self._fault, len(self._waiting)), now)

    def _make_known(self, effects: Sequence[Effect], entries: Sequence[Entry], written: bool, now: Moment) -> None:
        if self._account is not None:
            for entry in entries:
                self._account(entry, now)
        for effect in effects:
            if isinstance(effect, Say):
                say = effect
                if say.cue is Cue.ACCEPTED and not written:
                    say = Say(Cue.KEPT_IN_MEMORY, t("{words} Not on disk yet.", words=say.words))
                self._signals.cue(say.cue, say.words)
                if self._account is not None:
                    self._account(say, now)
        self._signals.hold(urgency(self._bench.standing, now))
        self._signals.pace(pace_now(self._bench.standing, self._bench.pan, now))
        self._post(now)

    def _post(self, now: Moment) -> None:
        self._seq += 1
        seen = snapshot(self._bench, now, self._seq, self._card, self._news())
        self._signals.lamps(*_lamps(seen))
        self._board.post(seen)

    def _told(self, effects: Sequence[Effect], now: Moment) -> Moment:
        """The same instant, by the time that somebody has just told; kept with the evidence of this boot."""
        for effect in effects:
            if isinstance(effect, KeepTime):
                self._clock.told(effect.offset_s)
                now = self._clock.now()
                self._beat(now)
        return now

    def _evidence(self, now: Moment) -> None:
        """A sign of life at most once a minute, and only while a clock runs: the card is to be spared."""
        if any_runs(self._bench.standing) and now.boot_s - self._evidence_at_s >= EVIDENCE_S:
            self._beat(now)

    def _beat(self, now: Moment) -> None:
        self._evidence_at_s = now.boot_s
        try:
            self._ledger.heartbeat(now)
        except LedgerFault as fault:
            log.error("heartbeat not written why=%s", fault)


def _lamps(seen: Snapshot) -> tuple[bool, bool, bool]:
    """Something to do now; a clock runs; something is wrong or waits for an answer."""
    ready = seen.bench is not None and not seen.bench.paused and seen.scale.state is ScaleState.LIVE
    busy = bool(seen.curing) or (seen.bench is not None and bool(seen.bench.dials))
    return ready, busy, bool(seen.alarms) or bool(seen.banners)
