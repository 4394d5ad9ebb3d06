"""Network troubles between station and server: a line that breaks at the worst moment, and a host that is mute."""

from __future__ import annotations

import contextlib
import socket
import threading
from types import TracebackType

from tests.ports import free_port

COMMIT = b"COMMIT"


class BadLine:
    """Passes bytes on to a server on loopback. `lose_answers` commits arrive there, but no answers come back."""

    def __init__(self, server_port: int) -> None:
        self._server_port = server_port
        self.port = free_port()
        self.lose_answers = 0
        self.lost = 0
        self._listener = socket.create_server(("127.0.0.1", self.port))
        self._open: list[socket.socket] = []
        self._threads = [threading.Thread(target=self._accept)]
        self._threads[0].start()

    def __enter__(self) -> BadLine:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        for one in self._open:
            _cut(one)
        for thread in self._threads:
            thread.join(20)
            assert not thread.is_alive()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
            except OSError:
                return
            far = socket.create_connection(("127.0.0.1", self._server_port))
            self._open += [near, far]
            lose = threading.Event()
            for one in (
                threading.Thread(target=self._forth, args=(near, far, lose)),
                threading.Thread(target=self._back, args=(near, far, lose)),
            ):
                self._threads.append(one)
                one.start()

    def _forth(self, near: socket.socket, far: socket.socket, lose: threading.Event) -> None:
        with contextlib.suppress(OSError):
            while data := near.recv(65536):
                if COMMIT in data and self.lose_answers > 0:
                    self.lose_answers -= 1
                    lose.set()
                far.sendall(data)
        _cut(far)

    def _back(self, near: socket.socket, far: socket.socket, lose: threading.Event) -> None:
        with contextlib.suppress(OSError):
            while data := far.recv(65536):
                if lose.is_set():
                    # The server has answered, so the commit is done; the station never learns of it.
                    assert b"COMMIT" in data
                    self.lost += 1
                    break
                near.sendall(data)
        _cut(near)
        _cut(far)


class Mute:
    """A host that accepts connections and never says a word."""

    def __init__(self) -> None:
        self.port = free_port()
        self._listener = socket.create_server(("127.0.0.1", self.port))
        self.came = threading.Event()
        self._open: list[socket.socket] = []
        self._thread = threading.Thread(target=self._accept)
        self._thread.start()

    def _accept(self) -> None:
        with contextlib.suppress(OSError):
            while True:
                self._open.append(self._listener.accept()[0])
                self.came.set()

    def __enter__(self) -> Mute:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _bug: BaseException | None, _at: TracebackType | None
    ) -> None:
        self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        for one in self._open:
            _cut(one)
        self._thread.join(20)


def _cut(line: socket.socket) -> None:
    with contextlib.suppress(OSError):
        line.shutdown(socket.SHUT_RDWR)
    line.close()
