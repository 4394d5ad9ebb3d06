"""Troubles with the shared log in sentences; no address in them holds a password."""

from __future__ import annotations

from typing import Final

from sqlalchemy.exc import SQLAlchemyError

from station.errors import Fault, Refused
from station.texts import N_, t


class SharedFault(Fault, OSError):
    """The shared log cannot be had now. Weighing is not touched by that."""

    hint = N_("The bench goes on; what it writes meanwhile follows when the log is back.")


class NotTaken(Refused):
    """The shared log takes nothing from this bench as things are; nothing in it was changed."""


_BY_STATE: Final = {
    "28P01": N_("The shared log at {place} does not take this name or password."),
    "28000": N_("The shared log at {place} does not let this station in."),
    "3D000": N_("The shared log at {place} is not there: the server has no database of that name."),
    "42501": N_(
        "The shared log at {place} may be read but not written by this station, or its tables may not be made."
    ),
    "25006": N_("The shared log at {place} may only be read now."),
    "53100": N_("The shared log at {place} is full: the server's disk takes nothing more."),
    "53300": N_("The shared log at {place} has no room for another connection."),
    "55P03": N_("The shared log at {place} is held by another station."),
    "57014": N_("The shared log at {place} is too slow: it was given up after some seconds."),
    "57P03": N_("The shared log at {place} is just starting."),
}
_BY_WORDS: Final = {
    "password authentication failed": "28P01",
    "no password supplied": "28P01",
    "no pg_hba.conf entry": "28000",
    "does not exist": "3D000",
    "too many clients": "53300",
    "is starting up": "57P03",
}
"""While a connection is being made only the server's English words are to be had, not the state."""
_HINTS: Final = {
    "28P01": N_("Check url under [shared] in the settings."),
    "3D000": N_("Create it, or correct the url."),
}


def fault_for(why: SQLAlchemyError | OSError, place: str, secrets: tuple[str, ...]) -> SharedFault:
    """The sentence for one error at `place`, an address without password; `secrets` are blotted out of it."""
    cause = getattr(why, "orig", None) or why
    words = " ".join(str(cause).split())
    state = getattr(cause, "sqlstate", None) or next((s for said, s in _BY_WORDS.items() if said in words), "")
    if state in _BY_STATE:
        return SharedFault(t(_BY_STATE[state], place=place), _HINTS.get(state, ""))
    for secret in secrets:
        words = words.replace(secret, "…")
    # Only the first of several addresses that were tried, and never a statement with its values.
    words = words.split("[SQL")[0].split(" Multiple ")[0].strip().rstrip(".")[:200]
    words = words or type(cause).__name__
    return SharedFault(t("The shared log at {place} cannot be reached ({words}).", place=place, words=words))
