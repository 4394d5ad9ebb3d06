"""The live stream: full state on connect, then each newer snapshot, as server-sent events.

Each state is whole, so a page that was cut off goes on with the newest, whichever it heard last. When the bench
makes none, a beat tells by the station's clock how old the last one has grown: a server that lives proves nothing
about the bench.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from station.board import Board
from station.core.snapshot import Snapshot
from station.phone.wire import state

AT_MOST_EVERY_S = 0.08
"""Less than the tenth of a second between a scale's lines, or pages would fall behind by each line that is late."""
LOOK_UP_S = 0.5
"""How long a stream waits for news before it says that it lives."""
MAX_STREAMS = 50


@dataclass(frozen=True, slots=True)
class Ear:
    """Who listens to a stream: whether it still may, and the pairing code that is for it alone (empty: none)."""

    welcome: Callable[[], bool]
    code: Callable[[], str]


EVERYBODY = Ear(lambda: True, lambda: "")


class Streams:
    """Counts the open streams and ends them all when the server stops."""

    def __init__(self, board: Board, ticks: Callable[[], float], limit: int = MAX_STREAMS) -> None:
        """`ticks`: the boot-time seconds of now, of the clock by which snapshots are made."""
        self._board, self._ticks, self._limit = board, ticks, limit
        self._changed = threading.Condition()
        self._open = 0
        self._ending = threading.Event()
        self._written: tuple[Snapshot, bytes] | None = None

    @property
    def open(self) -> int:
        """How many streams are open."""
        with self._changed:
            return self._open

    def age_s(self, snapshot: Snapshot | None) -> float:
        """How many seconds ago the bench was as `snapshot` shows it; 0 for none."""
        return 0.0 if snapshot is None else max(0.0, self._ticks() - snapshot.at.boot_s)

    def end(self, within_s: float = 1.0) -> bool:
        """Let every stream finish, so that the server can stop at once; False when one hangs on its client."""
        self._ending.set()
        self._board.wake()
        with self._changed:
            return self._changed.wait_for(lambda: self._open == 0, within_s)

    def opened(self, ear: Ear = EVERYBODY) -> Stream | None:
        """A new stream for this ear; None when there are as many as the server can carry."""
        with self._changed:
            if self._open >= self._limit or self._ending.is_set():
                return None
            self._open += 1
        return Stream(self, ear)

    def closed(self) -> None:
        """One stream has ended."""
        with self._changed:
            self._open -= 1
            self._changed.notify_all()

    def frames(self, ear: Ear = EVERYBODY) -> Iterator[bytes]:
        """What one stream sends until the server stops, or until nobody may listen any more."""
        seen: Snapshot | None = None
        code = ""
        yield b"retry: 1000\n\n"
        while not self._ending.is_set() and ear.welcome():
            if (told := ear.code()) != code:
                code = told
                yield f"event: door\ndata: {json.dumps({'code': code})}\n\n".encode()
            newer = self._board.newer_than(-1 if seen is None else seen.seq, LOOK_UP_S, self._ending.is_set)
            if newer is None:
                yield self._beat(seen)
                continue
            # The first one may have lain there for long.
            yield self._frame(newer) + (self._beat(newer) if seen is None else b"")
            seen = newer
            # So many a second are enough for an eye; a wait that ends at once when the server stops.
            self._ending.wait(AT_MOST_EVERY_S)

    def _beat(self, seen: Snapshot | None) -> bytes:
        return f"event: beat\ndata: {self.age_s(seen):.2f}\n\n".encode()

    def _frame(self, snapshot: Snapshot) -> bytes:
        """The event for `snapshot`, put into words once for all streams. Two at the same time do no harm."""
        written = self._written
        if written is None or written[0] is not snapshot:
            text = json.dumps(state(snapshot), separators=(",", ":"), ensure_ascii=False)
            written = snapshot, f"id: {snapshot.seq}\ndata: {text}\n\n".encode()
            self._written = written
        return written[1]


class Stream:
    """One open stream. Its place is given back by `close`, which a server calls even if nothing was ever sent."""

    def __init__(self, streams: Streams, ear: Ear) -> None:
        self._streams = streams
        self._frames = streams.frames(ear)
        self._given_back = threading.Lock()

    def __iter__(self) -> Iterator[bytes]:
        return self

    def __next__(self) -> bytes:
        return next(self._frames)

    def close(self) -> None:
        """Give the place back, once."""
        if self._given_back.acquire(blocking=False):
            self._streams.closed()
