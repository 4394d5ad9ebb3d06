"""A wire between browser and server that a test can make fall silent: connections stay open and carry nothing."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress


class HoldingProxy:
    """Passes bytes on to `port`. After `hold` what is open stays open and mute; what is opened later works."""

    def __init__(self, port: int) -> None:
        self._to = port
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._listener.getsockname()[1])
        self._lock = threading.Lock()
        self._open: list[socket.socket] = []
        self._mute: set[socket.socket] = set()
        self._threads = [threading.Thread(target=self._accept, name="wire")]

    def __enter__(self) -> HoldingProxy:
        self._threads[0].start()
        return self

    def __exit__(self, *_: object) -> None:
        with suppress(OSError):
            self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        with self._lock:
            for end in self._open:
                with suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)
        for thread in self._threads:
            thread.join(10)
        for end in self._open:
            end.close()

    def hold(self) -> int:
        """From now on nothing comes out of the connections that are open; gives how many those are."""
        with self._lock:
            self._mute = set(self._open)
            return len(self._open) // 2

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
                far = socket.create_connection(("127.0.0.1", self._to))
            except OSError:
                return
            pumps = [threading.Thread(target=self._pump, args=ends, name="wire") for ends in ((near, far), (far, near))]
            with self._lock:
                self._open += [near, far]
                self._threads += pumps
            for pump in pumps:
                pump.start()

    def _pump(self, source: socket.socket, sink: socket.socket) -> None:
        with suppress(OSError):
            while data := source.recv(65536):
                with self._lock:
                    mute = source in self._mute
                if not mute:
                    sink.sendall(data)
            with self._lock:
                if source in self._mute:
                    return
            sink.shutdown(socket.SHUT_WR)
