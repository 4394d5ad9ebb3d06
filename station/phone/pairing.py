"""Pairing: a device may touch the bench once somebody has read it a code that only the bench shows.

The rules are pure (`Door` and its functions); the `Doorkeeper` holds the one live Door. A code is shown
on request, lives ten minutes and works once. Five failures shut the door for a quarter of an hour, for
everybody; it always opens again.
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, replace

from station.core.moment import Moment, gap_s
from station.errors import Refused
from station.phone.words import span_text
from station.texts import t, tn

CODE_LIVES_S = 600.0
MAX_FAILURES = 5
SHUT_FOR_S = 900.0


@dataclass(frozen=True, slots=True)
class Door:
    """The code that opens it, since when; failures since the last success; since when it is shut."""

    code: str | None = None
    shown: Moment | None = None
    failures: int = 0
    shut: Moment | None = None


def _passed(since: Moment | None, now: Moment, limit_s: float) -> bool:
    # An unknown gap means another boot, and a Door lives in memory only: it counts as long past.
    gap = None if since is None else gap_s(since, now)
    return gap is None or gap >= limit_s


def refreshed(door: Door, now: Moment) -> Door:
    """The door at `now`: opened again after the delay, without a code that has run out."""
    if door.shut is not None and _passed(door.shut, now, SHUT_FOR_S):
        door = Door()
    if door.code is not None and _passed(door.shown, now, CODE_LIVES_S):
        door = replace(door, code=None, shown=None)
    return door


def _shut_sentence(door: Door, now: Moment) -> str:
    gone = 0.0 if door.shut is None else gap_s(door.shut, now) or 0.0
    return t(
        "Too many wrong codes. Pairing is shut for another {shut_for_s}; then ask for a new code.",
        shut_for_s=span_text(SHUT_FOR_S - gone),
    )


def asked(door: Door, now: Moment, fresh: str) -> Door:
    """Somebody asks for a code: the one that is still good, else `fresh`. Raises Refused while shut.

    Asking again keeps the code, so that a second phone cannot spoil the first one's.
    """
    door = refreshed(door, now)
    if door.shut is not None:
        raise Refused(_shut_sentence(door, now))
    return door if door.code is not None else replace(door, code=fresh, shown=now)


def tried(door: Door, now: Moment, code: str) -> tuple[Door, str]:
    """Somebody types `code`. The door after that, and why it stays closed ("" when it opened)."""
    door = refreshed(door, now)
    if door.shut is not None:
        return door, _shut_sentence(door, now)
    if door.code is None:
        return door, t("No code is waiting. Ask for one first; it shows at the bench and lives ten minutes.")
    if hmac.compare_digest(door.code.encode(), "".join(code.split()).encode()):
        return Door(), ""
    failures = door.failures + 1
    if failures >= MAX_FAILURES:
        door = Door(failures=failures, shut=now)
        return door, _shut_sentence(door, now)
    left = MAX_FAILURES - failures
    return replace(door, failures=failures), _wrong(left)


def _wrong(left: int) -> str:
    return tn(
        "That is not the code at the bench. {n} more try is allowed.",
        "That is not the code at the bench. {n} more tries are allowed.",
        left,
    )


def six_digits() -> str:
    """A code nobody can foresee."""
    return f"{secrets.randbelow(1_000_000):06d}"
