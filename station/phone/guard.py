"""Guard: touching needs a paired device, this station's own page, and a name it answers to. Looking is free, or not.

Each request is first recognised (whose device is it?), then checked.
"""

from __future__ import annotations

import hmac
import ipaddress
import secrets
from collections.abc import Callable, Collection
from urllib.parse import urlsplit

from flask import Request, g, session

from station.config import Look
from station.errors import StationError
from station.phone.devices import Device
from station.texts import N_, t

TOKEN_HEADER = "X-Tarebell-Token"
TOKEN_FIELD = "token"
LOOKING = frozenset({"GET", "HEAD", "OPTIONS"})
UNPAIRED_MAY_ACT = frozenset({"door.ask", "door.open_with"})
"""Pairing itself is the one thing that a device may do unpaired."""
ALWAYS_SHOWN = UNPAIRED_MAY_ACT | {"static", "pages.icon", "door.pair", "calendar.feed"}
"""What a device gets to see at a station where even looking needs pairing. The feed has a secret of its own."""


class Locked(StationError):
    """This device may look, but not touch."""

    hint = N_("Pair it with the code that the station shows at the bench.")


class Closed(Locked):
    """This device may not even look."""


class Foreign(StationError):
    """The request does not come from this station's own page."""

    hint = N_("Open the station's page by its own address and try again.")


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


def recognise(greet: Callable[[object], Device | None]) -> None:
    """Find out whose device sends this request. `greet` takes the key of its cookie."""
    g.device = found = greet(session.get("pairing"))
    # Once a day the cookie is sent again, so that a phone in use keeps it for another thirty days.
    if found is not None and session.get("day") != found.seen.wall.date().isoformat():
        session["day"] = found.seen.wall.date().isoformat()


def paired() -> bool:
    """Whether this request comes from a paired device."""
    return g.get("device") is not None


def mine() -> Device | None:
    """The paired device that sends this request."""
    found = g.get("device")
    return found if isinstance(found, Device) else None


def device() -> str:
    """Who touches, for the record."""
    found = mine()
    return t("page (not paired)") if found is None else t("page ({found})", found=found.name)


def admit(key: str) -> None:
    """From now on this session is that of a paired device. It gets a new token, so that none outlives the pairing."""
    session.clear()
    session["pairing"] = key


def may_look(look: Look) -> bool:
    """Whether this request may be shown what goes on at the bench."""
    return look is Look.FREE or paired()


def check(request: Request, names: Collection[str], look: Look) -> None:
    """Raises Foreign, Locked or Closed unless the request may do what it wants."""
    if not host_allowed(request.host, names):
        raise Foreign(t("This station does not answer to the name {host}.", host=repr(request.host[:80])))
    if request.method in LOOKING:
        if not may_look(look) and request.endpoint not in ALWAYS_SHOWN:
            raise Closed(t("This station is locked."))
        return
    if not same_origin(request.headers.get("Origin") or request.headers.get("Referer"), request.host):
        raise Foreign(t("Another site asked this station to act; it does not."))
    given = request.headers.get(TOKEN_HEADER) or request.form.get(TOKEN_FIELD, "")
    if not hmac.compare_digest(given.encode(), token().encode()):
        raise Foreign(t("The page is too old to act."), t("Reload it and try again."))
    if request.endpoint not in UNPAIRED_MAY_ACT:
        needs_pairing()


def needs_pairing() -> None:
    """Raises Locked, in words that tell a device whose pairing has ended from one that never had any."""
    if paired():
        return
    if "pairing" in session:
        raise Locked(
            t("This device is not paired any more: its pairing was ended, or it was not seen for thirty days.")
        )
    raise Locked(t("This device may look, but not touch."))
