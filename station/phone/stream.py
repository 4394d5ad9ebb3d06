"""The live stream: full state on connect, then each newer snapshot, as server-sent events."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator

from station.board import Board
from station.phone.wire import state

AT_MOST_EVERY_S = 0.1
HEARTBEAT_S = 1.0
MAX_STREAMS = 50


class Streams:
    """Counts the open streams and ends them all when the server stops."""

    def __init__(self, board: Board, limit: int = MAX_STREAMS) -> None:
        self._board, self._limit = board, limit
        self._lock = threading.Lock()
        self._open = 0
        self._ending = threading.Event()

    def end(self) -> None:
        """Let every stream finish, so that the server can stop at once."""
        self._ending.set()

    def opened(self) -> Iterator[bytes] | None:
        """A new stream; None when there are as many as the server can carry."""
        with self._lock:
            if self._open >= self._limit or self._ending.is_set():
                return None
            self._open += 1
        return self._events()

    def _events(self) -> Iterator[bytes]:
        try:
            seq = -1
            yield b"retry: 1000\n\n"
            while not self._ending.is_set():
                newer = self._board.newer_than(seq, HEARTBEAT_S)
                if newer is None:
                    yield b": still here\n\n"
                    continue
                seq = newer.seq
                yield f"id: {seq}\ndata: {json.dumps(state(newer), separators=(',', ':'))}\n\n".encode()
                # Ten a second are enough for an eye; a wait that ends at once when the server stops.
                self._ending.wait(AT_MOST_EVERY_S)
        finally:
            with self._lock:
                self._open -= 1
