"""Guard: looking is free, touching needs a paired session, this station's own page, and a name it answers to."""

from __future__ import annotations

import hmac
import ipaddress
import secrets
from collections.abc import Callable, Collection
from urllib.parse import urlsplit

from flask import Request, session

from station.errors import StationError

TOKEN_HEADER = "X-Tarebell-Token"
TOKEN_FIELD = "token"
LOOKING = frozenset({"GET", "HEAD", "OPTIONS"})


class Locked(StationError):
    """This device may look, but not touch."""

    hint = "Pair it with the code that the station shows at the bench."


class Foreign(StationError):
    """The request does not come from this station's own page."""

    hint = "Open the station's page by its own address and try again."


def host_allowed(host: str, names: Collection[str]) -> bool:
    """Any IP literal passes (a rebinding attack needs a name); a name must be one of ours."""
    try:
        name = (urlsplit(f"//{host}").hostname or "").rstrip(".")
    except ValueError:
        return False
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return name == "localhost" or name in names
    return True


def same_origin(said: str | None, host: str) -> bool:
    """Whether an Origin or Referer header names this very host and port. Neither sent counts as foreign."""
    if not said:
        return False
    try:
        parts = urlsplit(said)
    except ValueError:
        return False
    return parts.scheme in ("http", "https") and parts.netloc.lower() == host.lower()


def token() -> str:
    """This session's token, made when first asked for."""
    if "token" not in session:
        session["token"] = secrets.token_urlsafe(24)
    return str(session["token"])


def paired(good: Callable[[object], bool]) -> bool:
    """Whether this session holds a pairing that is still `good`."""
    return good(session.get("pairing"))


def device() -> str:
    """Who touches, for the record."""
    pairing = session.get("pairing")
    return f"page ({pairing['device']})" if isinstance(pairing, dict) else "page (not paired)"


def check(request: Request, names: Collection[str], good: Callable[[object], bool], *, needs_pairing: bool) -> None:
    """Raises Foreign or Locked unless the request may do what it wants."""
    if not host_allowed(request.host, names):
        raise Foreign(f"This station does not answer to the name {request.host[:80]!r}.")
    if request.method in LOOKING:
        return
    if not same_origin(request.headers.get("Origin") or request.headers.get("Referer"), request.host):
        raise Foreign("Another site asked this station to act; it does not.")
    given = request.headers.get(TOKEN_HEADER) or request.form.get(TOKEN_FIELD, "")
    if not hmac.compare_digest(given.encode(), token().encode()):
        raise Foreign("The page is too old to act.", "Reload it and try again.")
    if needs_pairing and not paired(good):
        raise Locked("This device may look, but not touch.")
