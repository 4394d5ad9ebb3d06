"""What the pages need of the calendar."""

from __future__ import annotations

from typing import Protocol


class CalendarDesk(Protocol):
    """Called from many threads. Every refusal is a StationError."""

    def secret(self) -> str:
        """The secret part of the calendar's address, made when first asked for. Raises LedgerFault."""
        ...

    def renew(self, by: str) -> None:
        """Give the calendar another address; the one before leads nowhere from now on. Raises LedgerFault."""
        ...

    def feed(self, secret: str) -> str | None:
        """The calendar of all casts that cure; None when that is not its secret. Raises Fault, with why not."""
        ...

    def cast(self, number: int) -> str:
        """The calendar of one cast. Raises Refused, or Fault with why not."""
        ...

    def why_not(self) -> str:
        """Why there are no dates just now, in a sentence; empty when there are."""
        ...
