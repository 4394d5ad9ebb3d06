"""The journal's chain: each row is sealed by a digest over its columns and the digest of the row before.

digest = SHA-256 (FIPS 180-4) of the JSON array [seq, kind, cast_number, boot_id, boot_s, wall, trusted,
payload, previous], so a changed, missing or moved row no longer fits.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from station.core.events import Entry, cast_number
from station.core.moment import Moment
from station.errors import LedgerFault
from station.store.codec import decode, encode
from station.texts import t

GENESIS: Final = "0" * 64
"""What the first row names as the digest before it."""

SURE: Final = 1
SET_BY_HAND: Final = 2
"""In a `trusted` column: the wall was trusted; it was, because a person had set it."""


@dataclass(frozen=True, slots=True)
class Row:
    """One journal row as its columns stand. `wall` is ISO 8601 in UTC; `trusted` 0, 1, or 2 for set by hand."""

    seq: int
    kind: str
    cast_number: int | None
    boot_id: str
    boot_s: float
    wall: str
    trusted: int
    payload: str
    previous: str
    digest: str

    @property
    def said(self) -> tuple[object, ...]:
        """What the row says, without its place in the chain."""
        return self.kind, self.cast_number, self.boot_id, self.boot_s, self.wall, self.trusted, self.payload


def sealed_by(row: Row) -> str:
    """The digest that this row ought to carry."""
    text = json.dumps([row.seq, *row.said, row.previous], separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def row_of(entry: Entry, seq: int, previous: str) -> Row:
    """The row for an entry at place `seq`, after the row whose digest is `previous`."""
    kind, payload = encode(entry.event)
    at = entry.at
    row = Row(
        seq=seq,
        kind=kind,
        cast_number=cast_number(entry.event),
        boot_id=at.boot_id,
        boot_s=at.boot_s + 0.0,  # SQLite keeps no negative zero
        wall=at.wall.isoformat(),
        trusted=trust_of(at),
        payload=payload,
        previous=previous,
        digest="",
    )
    return replace(row, digest=sealed_by(row))


def trust_of(at: Moment) -> int:
    """How a wall time stands in a `trusted` column: 0 not, 1 trusted, 2 trusted because set by hand."""
    return SET_BY_HAND if at.by_hand else SURE if at.trusted else 0


def moment_of(boot_s: float, boot_id: str, wall: str, trusted: int) -> Moment:
    """A moment from its columns. Raises LedgerFault when they make no sense."""
    try:
        return Moment(boot_s, boot_id, datetime.fromisoformat(wall), bool(trusted), trusted == SET_BY_HAND)
    except (ValueError, TypeError) as why:
        raise LedgerFault(t("A time in the record cannot be read: {wall}.", wall=repr(wall))) from why


def entry_of(row: Row) -> Entry:
    """The entry that a row holds. Raises LedgerFault when it cannot be read."""
    return Entry(decode(row.kind, row.payload), moment_of(row.boot_s, row.boot_id, row.wall, row.trusted))
