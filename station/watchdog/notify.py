"""Telling the service manager how the station does, over the datagram socket that it names in NOTIFY_SOCKET."""

from __future__ import annotations

import logging
import socket
from collections.abc import Mapping

log = logging.getLogger("tarebell.watchdog")

_WITHIN_S = 1.0
"""The manager's socket may be full for a moment; who waits longer does not watch any more."""


class Notifier:
    """`address` is a socket's path, or a name without one that begins with "@"; empty: nobody is to be told.

    `within_s` is how often the manager wants a sign of life, in seconds; None when it wants none.
    """

    def __init__(self, address: str = "", within_s: float | None = None) -> None:
        self._address = f"\0{address[1:]}" if address.startswith("@") else address
        self.within_s = within_s
        self._failed = False

    def send(self, *assignments: str) -> None:
        """Tell, in one message, assignments such as "READY=1". Never raises: that nobody hears is only logged, once."""
        if not self._address:
            return
        try:
            with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as out:
                out.settimeout(_WITHIN_S)
                out.sendto("\n".join(assignments).encode(), self._address)
        except OSError as why:
            if not self._failed:
                log.error("the service manager cannot be told how the station does why=%s", why)
            self._failed = True
        else:
            self._failed = False


def notifier_of(environ: Mapping[str, str], pid: int) -> Notifier:
    """Whom the environment of the process `pid` names. What is no number of microseconds is no wish."""
    wanted, whose = environ.get("WATCHDOG_USEC", ""), environ.get("WATCHDOG_PID", "")
    meant = wanted.isascii() and wanted.isdigit() and int(wanted) > 0 and whose in ("", str(pid))
    return Notifier(environ.get("NOTIFY_SOCKET", ""), int(wanted) / 1e6 if meant else None)
