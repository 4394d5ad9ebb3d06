"""Targets on loopback that take messages, refuse, hang, answer with an error, slowly, or send elsewhere."""

from __future__ import annotations

import contextlib
import json
import socket
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any


class Target(ThreadingHTTPServer):
    """A web hook. `answers` are statuses given in turn, the last one again and again."""

    daemon_threads = True

    def __init__(self, *answers: int, slowly: bool = False, location: str = "") -> None:
        self.answers, self.slowly, self.location = list(answers), slowly, location
        self.heard: list[dict[str, Any]] = []
        self.closing = threading.Event()
        super().__init__(("127.0.0.1", 0), _Answer)

    @property
    def url(self) -> str:
        return f"json://127.0.0.1:{self.server_address[1]}/hook/Zq81xY"

    @contextlib.contextmanager
    def open(self) -> Iterator[Target]:
        thread = threading.Thread(target=self.serve_forever, args=(0.05,), name="test target")
        thread.start()
        try:
            yield self
        finally:
            self.closing.set()
            self.shutdown()
            thread.join()
            self.server_close()


class _Answer(BaseHTTPRequestHandler):
    server: Target

    def do_POST(self) -> None:
        target = self.server
        text = self.rfile.read(int(self.headers["Content-Length"]))
        target.heard.append(json.loads(text))
        status = target.answers.pop(0) if len(target.answers) > 1 else target.answers[0]
        self.send_response(status)
        if target.location:
            self.send_header("Location", target.location)
        if target.slowly:
            self._drop_by_drop()
        else:
            self.end_headers()

    def do_GET(self) -> None:
        self.server.heard.append({"got": self.path})
        self.send_response(200)
        self.end_headers()

    def _drop_by_drop(self) -> None:
        """One header after the other without an end: no read of it takes long enough to time out."""
        self.flush_headers()
        with contextlib.suppress(OSError):
            while not self.server.closing.wait(0.2):
                self.wfile.write(b"X-Drop: 1\r\n")
                self.wfile.flush()

    def log_message(self, *_: object) -> None:
        """Nothing on the terminal."""


@contextlib.contextmanager
def refusing() -> Iterator[str]:
    """An address at which nobody listens."""
    with socket.socket() as held:
        held.bind(("127.0.0.1", 0))  # bound and not listening: connections are refused, nobody else gets the port
        yield f"json://127.0.0.1:{held.getsockname()[1]}/hook/Zq81xY"


@contextlib.contextmanager
def hanging() -> Iterator[str]:
    """An address that takes connections and never says a word."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        yield f"json://127.0.0.1:{server.getsockname()[1]}/hook/Zq81xY"
