"""Troubles of disk and database in the words of somebody who stands at the bench."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from sqlalchemy.exc import DBAPIError, SQLAlchemyError

from station.errors import LedgerFault
from station.texts import N_, t

_BY_SQLITE_NAME = {
    "SQLITE_FULL": (
        N_("The disk is full: {place} takes nothing more."),
        N_("Free some space; the bench goes on meanwhile."),
    ),
    "SQLITE_READONLY": (
        N_("{place} can only be read, not written."),
        N_("Check the card and the folder's permissions."),
    ),
    "SQLITE_CANTOPEN": (N_("{place} cannot be opened."), N_("Check that its folder exists and may be written.")),
    "SQLITE_NOTADB": (N_("{place} is not a database."), ""),
    "SQLITE_BUSY": (N_("{place} is held by another program."), N_("Close whatever else has the record open.")),
    "SQLITE_LOCKED": (N_("{place} is held by another program."), N_("Close whatever else has the record open.")),
    "SQLITE_CORRUPT": (N_("{place} is damaged."), ""),
    "SQLITE_IOERR": (N_("The disk does not take or give {place}."), N_("Check the memory card; it may be worn out.")),
    "SQLITE_PERM": (N_("{place} may not be used by this user."), N_("Check the folder's permissions.")),
}
_BY_ERRNO = {
    errno.ENOSPC: _BY_SQLITE_NAME["SQLITE_FULL"],
    errno.EDQUOT: _BY_SQLITE_NAME["SQLITE_FULL"],
    errno.EROFS: _BY_SQLITE_NAME["SQLITE_READONLY"],
    errno.EACCES: _BY_SQLITE_NAME["SQLITE_PERM"],
    errno.EPERM: _BY_SQLITE_NAME["SQLITE_PERM"],
    errno.EIO: _BY_SQLITE_NAME["SQLITE_IOERR"],
    errno.ENOTDIR: (
        N_("{place} cannot be made: a part of its path is a file, not a folder."),
        N_("Name another folder."),
    ),
    errno.EEXIST: (N_("{place} cannot be made: a file of that name is in the way."), N_("Name another folder.")),
    errno.ENOENT: (N_("{place} is not there."), N_("Check the path in the settings.")),
}


class RecordDamaged(LedgerFault):
    """The record is not as it was written. Nothing more is written to it."""

    hint = N_("It is kept as it is. Restore it on the page Record, or with `tarebell restore`.")


class RecordHeld(LedgerFault):
    """Another program or another station holds the record."""


class RecordForeign(LedgerFault):
    """The record was written by a newer version, or is none of ours."""


class RecordReadOnly(LedgerFault):
    """The record can only be read, not written."""


_SPOILT: Final = _BY_SQLITE_NAME["SQLITE_CORRUPT"][0]
_DAMAGE: Final = ("SQLITE_CORRUPT", "SQLITE_NOTADB")
_NO_TEXT: Final = "Could not decode to UTF-8"
"""What Python's sqlite3 says, without any code, of text that is no text: only a spoilt page holds such."""
_HELD: Final = ("SQLITE_BUSY", "SQLITE_LOCKED")

STORE_ERRORS: Final = (SQLAlchemyError, sqlite3.Error, OSError, UnicodeDecodeError)
"""What database and disk raise. SQLite cites a spoilt schema in its message, which Python's sqlite3 cannot decode."""


@contextmanager
def told_as_faults(place: object) -> Iterator[None]:
    """Within it, errors of disk and database become LedgerFault with a sentence about `place`."""
    try:
        yield
    except LedgerFault:
        raise
    except STORE_ERRORS as why:
        raise fault_for(why, place) from why


def fault_for(why: BaseException, place: object) -> LedgerFault:
    """The sentence for one error."""
    cause = why.orig if isinstance(why, DBAPIError) and why.orig is not None else why
    known: tuple[str, str] | None = None
    if isinstance(cause, sqlite3.Error):
        # Extended names such as SQLITE_IOERR_WRITE begin with the plain one.
        name = "_".join(getattr(cause, "sqlite_errorname", "").split("_")[:2])
        if name in _DAMAGE:
            return RecordDamaged(t(_BY_SQLITE_NAME[name][0], place=place))
        if name in _HELD:
            return RecordHeld(t(_BY_SQLITE_NAME[name][0], place=place), _BY_SQLITE_NAME[name][1])
        if name == "SQLITE_READONLY":
            return RecordReadOnly(t(_BY_SQLITE_NAME[name][0], place=place), _BY_SQLITE_NAME[name][1])
        if not name and str(cause).startswith(_NO_TEXT):
            return RecordDamaged(t(_SPOILT, place=place))
        known = _BY_SQLITE_NAME.get(name)
    elif isinstance(cause, OSError):
        known = _BY_ERRNO.get(cause.errno or 0)
    elif isinstance(cause, UnicodeDecodeError):
        return RecordDamaged(t(_SPOILT, place=place))
    if known is None:
        why_not = " ".join(str(cause).split())[:160]
        return LedgerFault(t("The record at {place} cannot be used ({why}).", place=place, why=why_not))
    sentence, hint = known
    return LedgerFault(t(sentence, place=place), hint)
