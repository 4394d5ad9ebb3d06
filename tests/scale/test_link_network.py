"""The scale behind a network connection on loopback: raw bytes over TCP, and a port shared as RFC 2217 describes."""

from __future__ import annotations

import contextlib
import socket
import threading
from collections.abc import Iterator

import serial
from serial.rfc2217 import PortManager

from station.core.messages import Reading, ScaleFound, ScaleLost
from tests.scale.hearing import DEADLINE_S, Hearing, linked

LINE = b"ST,+00123.4  g\r\n"


@contextlib.contextmanager
def listening() -> Iterator[socket.socket]:
    """A loopback server on a free port below the range from which clients get theirs."""
    with socket.socket() as server:
        server.settimeout(DEADLINE_S)
        server.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        for port in range(21300, 21400):
            with contextlib.suppress(OSError):
                server.bind(("127.0.0.1", port))
                server.listen()
                yield server
                return
        raise AssertionError("no free port")


def url(kind: str, server: socket.socket) -> str:
    return f"{kind}://127.0.0.1:{server.getsockname()[1]}"


def test_a_socket_is_read_lost_and_found_again(hearing: Hearing) -> None:
    with listening() as server, linked(url("socket", server), hearing):
        for _ in range(2):
            peer, _address = server.accept()
            with peer:
                hearing.until_a(ScaleFound)
                hearing.until_a(Reading, lambda to=peer: to.sendall(LINE))  # type: ignore[misc]
            lost = hearing.until_a(ScaleLost).message
            assert isinstance(lost, ScaleLost)
            assert lost.why.startswith(f"The connection to {url('socket', server)} was lost")


def test_a_socket_that_nobody_serves_is_told_in_a_sentence(hearing: Hearing) -> None:
    with listening() as server:
        nobody = url("socket", server)
    with linked(nobody, hearing):
        lost = hearing.until_a(ScaleLost).message
    assert isinstance(lost, ScaleLost)
    assert lost.why.startswith(f"Nothing answers at {nobody}. Check")


class SharedPort:
    """The far end of an RFC 2217 connection; the library's own half of the protocol settles the options."""

    def __init__(self, server: socket.socket) -> None:
        self._server = server
        self._peer: socket.socket | None = None
        self._manager: PortManager | None = None
        self.device = serial.serial_for_url("loop://")
        self._thread = threading.Thread(target=self._serve)
        self._thread.start()

    def write(self, data: bytes) -> None:
        """What the manager answers; part of its interface."""
        assert self._peer is not None
        self._peer.sendall(data)

    def say(self, line: bytes) -> None:
        """A line of the scale, for whoever is connected."""
        if self._manager is not None:
            self.write(b"".join(self._manager.escape(line)))

    def _serve(self) -> None:
        self._peer, _address = self._server.accept()
        manager = PortManager(self.device, self)
        self._manager = manager
        with contextlib.suppress(OSError):
            while data := self._peer.recv(1024):
                b"".join(manager.filter(data))

    def close(self) -> None:
        self._thread.join(DEADLINE_S)
        assert self._peer is not None
        self._peer.close()
        self.device.close()


def test_a_shared_port_is_set_up_read_and_let_go(hearing: Hearing) -> None:
    threads = threading.active_count()
    with (
        listening() as server,
        contextlib.closing(SharedPort(server)) as shared,
        linked(url("rfc2217", server), hearing, baud=2400),
    ):
        hearing.until_a(ScaleFound)
        hearing.until_a(Reading, lambda: shared.say(LINE))
        assert shared.device.baudrate == 2400
    assert hearing.loads()[0] == "123.4 g"
    assert threading.active_count() == threads
