"""TLS for the page, where the settings name a certificate: the service's own sockets, wrapped by the standard library.

The server knows nothing of TLS. It works on sockets that never block, and an encrypted one may ask to wait in either
direction: for the server that is simply "nothing yet". Reading and writing come from two threads, which OpenSSL does
not allow for one connection, so a lock takes them in turn.
"""

from __future__ import annotations

import errno
import logging
import socket
import ssl
import threading
from pathlib import Path
from typing import Any

from station.config import WebSettings
from station.errors import Fault
from station.texts import N_, t

log = logging.getLogger("tarebell.web")

RECORD_BYTES = 16384
"""What one TLS record holds at most. Read so much at once and nothing stays behind where no poll can see it."""


class CertificateFault(Fault, OSError):
    """The certificate or its key cannot be used."""

    hint = N_("Check certificate and key in [web] of the settings, or leave both out.")


def context_of(settings: WebSettings) -> ssl.SSLContext | None:
    """TLS as the settings want it; None without a certificate. Raises CertificateFault."""
    if settings.certificate is None or settings.key is None:
        return None
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    try:
        # An empty password: a key that wants one is refused instead of asked for on the terminal.
        context.load_cert_chain(settings.certificate, settings.key, password="")
    except ssl.SSLError as why:
        raise CertificateFault(
            t(
                "{certificate} and {key} are not a certificate and its key without a password ({x}).",
                certificate=settings.certificate,
                key=settings.key,
                x=why.reason or why,
            )
        ) from why
    except OSError as why:
        raise CertificateFault(f"{_missing(settings.certificate, settings.key)}: {why.strerror}.") from why
    return context


def _missing(*files: Path) -> str:
    for file in files:
        try:
            file.open("rb").close()
        except OSError:
            return t("{file} cannot be read", file=file)
    return t("The certificate cannot be read")


class QuietSocket:
    """A connection's encrypted socket in the manner of a plain one that does not block."""

    def __init__(self, sock: ssl.SSLSocket) -> None:
        self._sock = sock
        self._turn = threading.Lock()
        self._come: bytes | None = None

    def has_come(self) -> bool:
        """Whether `recv` has something to give: bytes, or the end of the line. A handshake goes on by this too."""
        with self._turn:
            if self._come is None:
                try:
                    self._come = self._sock.recv(RECORD_BYTES)
                except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
                    return False
                except OSError as why:
                    # No TLS at all, a certificate that the client does not like: nothing that a log need tell.
                    log.debug("encrypted line ended why=%s", why)
                    self._come = b""
            return True

    def recv(self, _most: int) -> bytes:
        """What has come, one record; empty at the end of the line. Only after `has_come`."""
        with self._turn:
            come, self._come = self._come or b"", None
            return come

    def send(self, data: Any) -> int:
        """How much of it went out. Raises BlockingIOError when nothing can go now, OSError when the line is broken."""
        with self._turn:
            try:
                return self._sock.send(data)
            except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
                raise BlockingIOError(errno.EWOULDBLOCK, "not now") from None
            except ssl.SSLError as why:
                raise ConnectionResetError(errno.ECONNRESET, str(why)) from why

    def shutdown(self, how: int) -> None:
        """Cut the line; what is still to be sent is not sent without encryption either."""
        with self._turn:
            socket.socket.shutdown(self._sock, how)

    def close(self) -> None:
        """End the line; never between two parts of a sending, which would then go on without encryption."""
        with self._turn:
            self._sock.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._sock, name)


def listening_with(context: ssl.SSLContext, listener: socket.socket) -> socket.socket:
    """The listener, whose connections speak TLS. The handshake waits for the first reading, so accepting never does."""
    return context.wrap_socket(listener, server_side=True, do_handshake_on_connect=False)


def speaking_tls(channel: type[Any]) -> type[Any]:
    """The server's class for a connection, made to work on an encrypted one."""

    class Encrypted(channel):  # type: ignore[misc]  # waitress carries no types
        """A client's encrypted connection."""

        def __init__(self, server: Any, sock: ssl.SSLSocket, addr: Any, adj: Any, map: Any = None) -> None:
            super().__init__(server, QuietSocket(sock), addr, adj, map=map)

        def handle_read(self) -> None:
            """Something has come on the wire; it need not be a whole record yet."""
            if self.socket.has_come():
                super().handle_read()

    return Encrypted
