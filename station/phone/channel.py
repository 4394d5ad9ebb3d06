"""A client's connection: how much may wait for one that reads slowly, and when one that reads nothing is let go."""

from __future__ import annotations

import logging
import socket
import struct
from contextlib import suppress
from typing import Any

from waitress.channel import ClientDisconnected, HTTPChannel

from station.casting.positive import MOST_BYTES
from station.phone import photos_sent
from station.phone.bodies import roomy_parser
from station.phone.positive_pages import FORM_BYTES

log = logging.getLogger("tarebell.web")

BACKLOG_BYTES = 16384
"""So much may wait for a client, and as much again in the kernel: a slow phone is a second behind, not a minute."""
PATIENCE_S = 5.0
"""A client that takes nothing for so long, with a full backlog, is let go: it holds a thread."""
UNTAKEN_S = 20.0
"""What nobody has taken for so long ends the connection, also where no thread waits and nobody would notice."""


def socket_options(untaken_s: float) -> list[tuple[int, int, int]]:
    """What every connection is set to: small parts at once, a small backlog, and an end to what nobody takes."""
    return [
        (socket.SOL_TCP, socket.TCP_NODELAY, 1),
        (socket.SOL_SOCKET, socket.SO_SNDBUF, BACKLOG_BYTES),
        (socket.SOL_TCP, socket.TCP_USER_TIMEOUT, round(untaken_s * 1000)),
    ]


class PatientChannel(HTTPChannel):  # type: ignore[misc]  # waitress carries no types
    """A client's connection that is given up when its backlog stays full."""

    patience_s = PATIENCE_S
    parser_class = roomy_parser(
        {
            "/positive": MOST_BYTES + FORM_BYTES,
            "/photos": photos_sent.MOST_AT_ONCE + photos_sent.FORM_BYTES,
            "/judge/": photos_sent.MOST_AT_ONCE + photos_sent.FORM_BYTES,
        }
    )

    def service(self) -> None:
        """Answer one request, then hang up: a phone that has slept would ask next on a connection that is long dead."""
        self.requests[0].headers["CONNECTION"] = "close"
        super().service()

    def write_soon(self, data: Any) -> Any:
        """Hand over a part of an answer; waits for room. Raises ClientDisconnected."""
        with self.outbuf_lock:
            if self.total_outbufs_len > BACKLOG_BYTES:
                self.server.pull_trigger()
                if not self.outbuf_lock.wait_for(self._has_room, self.patience_s):
                    log.info("client let go because it takes nothing address=%s", self.addr)
                    self._cut()
                    raise ClientDisconnected
        return super().write_soon(data)

    def _cut(self) -> None:
        # A full socket never becomes writable, and the server closes one only when it does: shut it down, unsent
        # data and all. The server's own loop then finds it at its end.
        self.will_close = True
        with suppress(OSError):
            self.socket.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            self.socket.shutdown(socket.SHUT_RDWR)
        self.server.pull_trigger()

    def _has_room(self) -> bool:
        return not self.connected or self.total_outbufs_len <= BACKLOG_BYTES
