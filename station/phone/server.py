"""The web server inside the service: threads for many open streams, and a clean stop within a second."""

from __future__ import annotations

import logging
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from waitress.server import create_server

from station.errors import Fault

log = logging.getLogger("tarebell.web")

THREADS = 64
STOP_WITHIN_S = 2.0


class WebFault(Fault, OSError):
    """The page cannot be served."""

    hint = "Choose another port in [web] of the settings, or stop the other program."


def _listening(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
    except OSError as why:
        listener.close()
        raise WebFault(f"The page cannot listen on {host} port {port}: {why.strerror or why}.") from why
    return listener


@contextmanager
def serving(app: Any, host: str, port: int, before_stop: Callable[[], None]) -> Iterator[int]:
    """Serve `app` from a thread; gives the port. `before_stop` ends the streams. Raises WebFault."""
    listener = _listening(host, port)
    # Lookahead 1 notices a gone client at once; a small buffer keeps a stalled one from spilling to disk.
    channels: dict[int, Any] = {}
    server = create_server(
        app,
        map=channels,
        sockets=[listener],
        threads=THREADS,
        channel_request_lookahead=1,
        outbuf_high_watermark=65536,
        ident=None,
    )
    thread = threading.Thread(target=_run, args=(server,), name="web")
    thread.start()
    try:
        yield int(listener.getsockname()[1])
    finally:
        before_stop()
        server.task_dispatcher.shutdown(cancel_pending=True, timeout=STOP_WITHIN_S)
        # Closing from another thread races with the server's own loop: let that loop run empty by itself.
        server.trigger.pull_trigger(lambda: _let_go(channels, server.trigger))
        thread.join(STOP_WITHIN_S)
        server.trigger.close()


def _let_go(channels: dict[int, Any], trigger: Any) -> None:
    """Close every socket but the trigger that this runs in; with no channel left the server's loop ends."""
    for channel in list(channels.values()):
        if channel is not trigger:
            channel.close()
    channels.clear()


def _run(server: Any) -> None:
    try:
        server.run()
    except OSError as why:
        log.error("web server ended why=%s", why)
