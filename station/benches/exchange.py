"""Exchange: the one thread that talks with the shared log. Nothing else of the station ever waits for it.

A turn: wishes of this bench's pages are sent, errands are fetched and answered, what is at hand here is told, rows and
casts of this bench are copied, and what the others tell is read into a frozen value.
"""

from __future__ import annotations

import logging
import threading
import uuid
from collections.abc import Callable
from dataclasses import replace
from types import TracebackType
from typing import Final, Self

from station.benches import errands, presence, shelf
from station.benches.copying import BATCH, copy_next
from station.benches.doing import Doing, Hand
from station.benches.faults import NotTaken
from station.benches.feed import Feed
from station.benches.identity import Own, claim
from station.benches.server import Server
from station.benches.tables import prepare
from station.core.at_hand import AtHand, at_hand, without_time
from station.core.moment import Moment
from station.core.snapshot import Snapshot
from station.errors import Fault
from station.neighbours import Neighbourhood, Neighbours
from station.ports import TimeSource

log = logging.getLogger("tarebell.benches")

PERIOD_S: Final = 2.0
RETRY_S: Final = 5.0
END_WITHIN_S: Final = 1.0
TELL_EVERY_S: Final = 30.0
BATCHES_A_TURN: Final = 10
CASTS_SHOWN: Final = 40


class Exchange:
    """Joins one bench with the shared log. `turn` is what its thread does again and again."""

    def __init__(
        self,
        *,
        server: Server,
        own: Own,
        feed: Feed,
        neighbours: Neighbours,
        clock: TimeSource,
        seen: Callable[[], Snapshot | None],
        hand: Hand,
        batch: int = BATCH,
    ) -> None:
        self._server, self._own, self._feed, self._clock = server, own, feed, clock
        self._neighbours, self._seen = neighbours, seen
        self._doing = Doing(hand, seen)
        self._batch = batch
        self._run = uuid.uuid4().hex
        self._ready = False
        self._told: tuple[AtHand, Moment] | None = None
        self._trouble = self._refused = ""
        self._ending = threading.Event()
        # A daemon: a server that hangs must not keep the station from stopping.
        self._thread = threading.Thread(target=self._live, name="benches", daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self._ending.set()
        self._neighbours.wished.set()
        self._thread.join(END_WITHIN_S)

    def _live(self) -> None:
        while not self._ending.is_set():
            more = self.turn()
            if more:
                continue
            self._neighbours.wished.wait(RETRY_S if self._trouble else PERIOD_S)
            self._neighbours.wished.clear()
        self._server.close()

    def turn(self) -> bool:
        """One exchange; whether rows are left to copy. What goes wrong is shown and tried again, never raised."""
        more = False
        refused = ""
        try:
            if not self._ready:
                with self._server.transaction() as db:
                    prepare(db)
                self._ready = True
            try:
                with self._server.transaction() as db:
                    claim(db, self._own)
                self._wish()
                self._do()
                self._tell()
                more = self._copy()
            except NotTaken as refusal:
                refused = refusal.sentence()
            value = self._read()
        except (Fault, NotTaken) as fault:
            self._ready = False
            self._note(fault.sentence(), self._refused)
            self._neighbours.away(fault.sentence())
            return False
        self._note("", refused)
        self._neighbours.post(replace(value, refused=refused))
        return more

    def _copy(self) -> bool:
        for _ in range(BATCHES_A_TURN):
            with self._server.transaction() as db:
                if copy_next(db, self._own, self._feed, self._batch) < self._batch:
                    return False
            if self._ending.is_set():
                return False
        return True

    def _tell(self) -> None:
        seen = self._seen()
        if seen is None:
            return
        now, value = self._clock.now(), at_hand(seen)
        if self._told is not None:
            before, at = self._told
            fresh = at.boot_id == now.boot_id and now.boot_s - at.boot_s < TELL_EVERY_S
            if fresh and without_time(before) == without_time(value):
                return
        with self._server.transaction() as db:
            presence.tell(db, self._own, value)
        self._told = value, now

    def _wish(self) -> None:
        for wish in self._neighbours.waiting():
            with self._server.transaction() as db:
                errands.ask(db, self._own.bench, wish)

    def _do(self) -> None:
        with self._server.transaction() as db:
            errands.expire(db)
            mine = errands.take(db, self._own.bench, self._run)
        self._doing.take(mine)
        answers = self._doing.answers()
        if answers:
            with self._server.transaction() as db:
                for one in answers:
                    errands.answer(db, one.key, one.state, one.words)
            self._doing.told(answers)

    def _read(self) -> Neighbourhood:
        known = self._neighbours.latest().casts
        with self._server.transaction() as db:
            return Neighbourhood(
                bench=self._own.bench,
                read=self._clock.now(),
                benches=presence.others(db, self._own.bench),
                casts=shelf.newest(db, but=self._own.bench, limit=CASTS_SHOWN, known=known),
                errands=errands.asked_by(db, self._own.bench),
            )

    def _note(self, trouble: str, refused: str) -> None:
        """Say in the log what has changed, once."""
        if trouble and trouble != self._trouble:
            log.warning("shared log away why=%s", trouble)
        if self._trouble and not trouble:
            log.info("shared log back")
        if refused and refused != self._refused:
            log.error("shared log takes nothing why=%s", refused)
        self._trouble, self._refused = trouble, refused
