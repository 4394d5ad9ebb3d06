"""How much a request may bring: little, but for the few addresses that take a file, and only a few at a time.

The server takes a whole body in before any page sees the request, so an address decides here. Bodies above half a
megabyte lie in files without a name, which are gone with the request.
"""

from __future__ import annotations

import copy
import threading
import weakref
from collections.abc import Mapping
from typing import Any

from waitress.parser import HTTPRequestParser
from waitress.utilities import Error

from station.texts import t

AT_ONCE = 2
"""Files on their way at a time: more would fill the temporary folder."""


class _Busy(Error):  # type: ignore[misc]  # waitress carries no types
    code = 503
    reason = "Service Unavailable"


def roomy_parser(room: Mapping[str, int], at_once: int = AT_ONCE) -> type[HTTPRequestParser]:
    """A request parser for waitress: a POST to a path in `room` may bring more bytes than the server says.

    A path there that ends in a slash stands for each one just below it.
    While `at_once` such bodies are taken in or worked on, another is answered with 503.
    """
    places = threading.BoundedSemaphore(at_once)

    class Roomy(HTTPRequestParser):  # type: ignore[misc]
        """Reads one request."""

        adj: Any

        def parse_header(self, header_plus: bytes) -> Any:
            """Takes the head of a request and decides on its body."""
            super().parse_header(header_plus)
            below = f"{self.path.rpartition('/')[0]}/"
            most = room.get(self.path, room.get(below)) if self.command == "POST" else None
            if most is None or not (self.chunked or self.content_length >= self.adj.max_request_body_size):
                return
            self.adj = copy.copy(self.adj)
            self.adj.max_request_body_size = most
            if not places.acquire(blocking=False):
                self.error = _Busy(t("Another file is on its way. Wait a minute, then send it again."))
                self.completed = True
                self.connection_close = True
                return
            # The place is free again when the request is gone, however it ends.
            weakref.finalize(self, places.release)

    return Roomy
