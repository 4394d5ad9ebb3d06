"""The doorway: what the door needs of the machine it stands on. Its key, the names it answers to, a code in the log."""

from __future__ import annotations

import logging
import os
import secrets
import socket
from pathlib import Path

from station.config import WebSettings

log = logging.getLogger("tarebell")


def announced_in_log(code: str) -> None:
    """Show a code in the terminal or the journal of the service."""
    log.warning("pairing code %s (ten minutes, once)", code)


def own_names(name: str) -> frozenset[str]:
    """Names under which the page may be asked for, besides any IP address."""
    host = socket.gethostname().lower()
    own = name.lower().replace(" ", "-")
    return frozenset({"localhost", host, f"{host}.local", own, f"{own}.local", "tarebell", "tarebell.local"})


def address(web: WebSettings, port: int) -> str:
    """Where the page is, for somebody at this machine."""
    shown = "127.0.0.1" if web.host in ("0.0.0.0", "::") else web.host
    shown = f"[{shown}]" if ":" in shown else shown
    return f"http{'' if web.certificate is None else 's'}://{shown}:{port}/"


def session_key(state_dir: Path) -> bytes:
    """The key that signs sessions: made once, readable by the station alone."""
    place = state_dir / "session.key"
    key = b""
    try:
        if not place.exists():
            with os.fdopen(os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
                file.write(secrets.token_bytes(32))
                file.flush()
                os.fsync(file.fileno())
        key = place.read_bytes()
    except OSError as why:
        # A full or spoiled card must not stop the bench: phones are paired anew for this run.
        log.error("no key kept place=%s why=%s", place, why.strerror)
    return key or secrets.token_bytes(32)
