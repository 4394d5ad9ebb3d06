"""The web server inside the service: threads for many open streams, and a clean stop within a second."""

from __future__ import annotations

import errno
import logging
import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from waitress.channel import HTTPChannel
from waitress.server import create_server

from station.errors import Fault
from station.phone.channel import BACKLOG_BYTES, PATIENCE_S, UNTAKEN_S, PatientChannel, socket_options
from station.phone.tls import listening_with, speaking_tls
from station.texts import N_, t

log = logging.getLogger("tarebell.web")
# It warns of every request that waits for a moment, as when fifty pages come back after a power cut.
logging.getLogger("waitress.queue").setLevel(logging.ERROR)

THREADS = 64
"""The open streams (50 at most) hold a thread each; the rest is for everything else."""
FORM_AT_MOST_BYTES = 65536
STOP_WITHIN_S = 3.0
"""Longer than the bench may take to answer, so that no request outlives the server; usually it takes no time."""


class WebFault(Fault, OSError):
    """The page cannot be served."""

    hint = N_("Choose another port in [web] of the settings, or stop the other program.")


@contextmanager
def serving(
    app: Any,
    host: str,
    port: int,
    before_stop: Callable[[], object],
    patience_s: float = PATIENCE_S,
    *,
    untaken_s: float = UNTAKEN_S,
    tls: ssl.SSLContext | None = None,
) -> Iterator[int]:
    """Serve `app` from a thread, over TLS with `tls`; gives the port (any free one for 0).

    `before_stop` ends the streams.

    Raises WebFault when the port cannot be had.
    """
    listener = _listening(host, port)
    if tls is not None:
        listener = listening_with(tls, listener)
    channels: dict[int, Any] = {}
    # Lookahead 1 notices a gone client at once; small buffers keep a stalled one from spilling to disk.
    server = create_server(
        app,
        map=channels,
        sockets=[listener],
        threads=THREADS,
        channel_request_lookahead=1,
        outbuf_high_watermark=BACKLOG_BYTES,
        max_request_body_size=FORM_AT_MOST_BYTES,
        max_request_header_size=32768,
        connection_limit=400,
        channel_timeout=30,
        asyncore_use_poll=True,
        log_socket_errors=False,
        ident=None,
        url_scheme="http" if tls is None else "https",
    )
    server.adj.socket_options = socket_options(untaken_s)
    patient = type("Patient", (PatientChannel,), {"patience_s": patience_s})
    server.channel_class = patient if tls is None else speaking_tls(patient)
    thread = threading.Thread(target=_run, args=(server,), name="web")
    thread.start()
    try:
        yield int(listener.getsockname()[1])
    finally:
        before_stop()
        # Closing from another thread races with the server's own loop: let that loop close its sockets itself.
        server.trigger.pull_trigger(lambda: _let_go(channels, server))
        server.task_dispatcher.shutdown(cancel_pending=True, timeout=STOP_WITHIN_S)
        # With no channel left the loop ends. Closing the trigger inside it could be overtaken by this very pull.
        server.trigger.pull_trigger(channels.clear)
        thread.join(STOP_WITHIN_S)
        server.trigger.close()


def _listening(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        # Two sockets may be bound to a port with SO_REUSEADDR; only one may listen.
        listener.listen(128)
    except (OSError, OverflowError) as why:
        listener.close()
        raise _cannot_listen(host, port, why) from why
    return listener


def _cannot_listen(host: str, port: int, why: Exception) -> WebFault:
    number = why.errno if isinstance(why, OSError) else None
    if number == errno.EADDRINUSE:
        return WebFault(
            t("Port {port} on {host} is taken by another program, perhaps by another station.", port=port, host=host)
        )
    if number == errno.EACCES:
        return WebFault(
            t("Port {port} needs rights that this user does not have.", port=port), t("Choose one above 1023 in [web].")
        )
    words = why.strerror if isinstance(why, OSError) and why.strerror else str(why)
    return WebFault(
        t("The page cannot listen on {host} port {port}: {words}.", host=host, port=port, words=words),
        t("Check host and port in [web]."),
    )


def _let_go(channels: dict[int, Any], server: Any) -> None:
    """Close every socket but the trigger that this runs in."""
    for channel in list(channels.values()):
        if channel is server.trigger:
            continue
        if isinstance(channel, HTTPChannel):
            channel.handle_close()
        else:
            channel.del_channel()
            channel.socket.close()


def _run(server: Any) -> None:
    try:
        server.run()
    except OSError as why:
        log.error("web server ended why=%s", why)
