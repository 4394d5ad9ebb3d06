"""Whom the station runs as, and what such a user may open: by owner, groups and mode, as the kernel would decide."""

from __future__ import annotations

import errno
import grp
import os
import pwd
import stat
from dataclasses import dataclass
from pathlib import Path

READ, WRITE, SEARCH = 4, 2, 1


@dataclass(frozen=True, slots=True)
class Account:
    """A user of this machine with all groups."""

    name: str
    uid: int
    gids: frozenset[int]


def account(name: str) -> Account | None:
    """The user of this name; None when there is none."""
    try:
        entry = pwd.getpwnam(name)
    except KeyError:
        return None
    return Account(name, entry.pw_uid, frozenset(os.getgrouplist(name, entry.pw_gid)))


def own_account() -> Account:
    """Who asks now. A user without a name goes by the number."""
    uid = os.geteuid()
    try:
        name = pwd.getpwuid(uid).pw_name
    except KeyError:
        name = str(uid)
    return Account(name, uid, frozenset({os.getegid(), *os.getgroups()}))


def may(who: Account, place: Path, wanted: int) -> bool:
    """Whether `who` may do `wanted` with the file or folder, folders above it left aside. Raises OSError.

    An access list beyond owner, group and mode is asked of only when `who` is the one who asks.
    """
    if who.uid == 0:
        return True
    if who.uid == os.geteuid() and os.access(place, wanted):
        return True
    told = place.stat()
    if told.st_uid == who.uid:
        bits = stat.S_IMODE(told.st_mode) >> 6
    elif told.st_gid in who.gids:
        bits = stat.S_IMODE(told.st_mode) >> 3
    else:
        bits = stat.S_IMODE(told.st_mode)
    return bits & wanted == wanted


def must_read(place: Path) -> None:
    """Raises PermissionError when who asks may not read what is there: it must not be taken for missing or broken."""
    if place.exists() and not os.access(place, os.R_OK | (os.X_OK if place.is_dir() else 0)):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(place))


def group_of(place: Path) -> str:
    """The name of the group that owns it, or its number. Raises OSError."""
    gid = place.stat().st_gid
    try:
        return grp.getgrgid(gid).gr_name
    except KeyError:
        return str(gid)
