"""What the shared log needs of this bench's own record, as Protocols: rows of its journal, and casts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from station.neighbours import SharedCast


class JournalRow(Protocol):
    """One row of a journal as its columns stand, sealed by `digest` over them and the digest `previous`."""

    @property
    def seq(self) -> int:
        """Its place, from 1."""
        ...

    @property
    def kind(self) -> str:
        """The kind of its event."""
        ...

    @property
    def cast_number(self) -> int | None:
        """The cast it belongs to."""
        ...

    @property
    def boot_id(self) -> str:
        """Its moment: which boot."""
        ...

    @property
    def boot_s(self) -> float:
        """Its moment: seconds in that boot."""
        ...

    @property
    def wall(self) -> str:
        """Its moment: ISO 8601 in UTC."""
        ...

    @property
    def trusted(self) -> int:
        """Its moment: 1 when the wall clock could be trusted, else 0."""
        ...

    @property
    def payload(self) -> str:
        """Its event as text."""
        ...

    @property
    def previous(self) -> str:
        """The digest of the row before it."""
        ...

    @property
    def digest(self) -> str:
        """Its own."""
        ...


class Feed(Protocol):
    """This bench's record, read only. Every call may raise LedgerFault."""

    def rows_after(self, seq: int, limit: int) -> Sequence[JournalRow]:
        """The next rows after number `seq`, in order."""
        ...

    def cast(self, number: int) -> SharedCast | None:
        """A cast as the others are to see it; None when the record has none of that number."""
        ...
