"""When to ask a scale that speaks only when asked: one request under way, and never in quick succession."""

from __future__ import annotations

PATIENCE_S = 1.5
"""Seconds after which a request without an answer is sent again."""


class Asking:
    """Paces requests by the boot-time seconds handed in; it neither waits nor writes.

    Asked too fast, some balances stop answering until they are unplugged, hence one request in flight and at
    least `every_s` from one to the next.
    """

    def __init__(self, request: bytes, every_s: float, patience_s: float = PATIENCE_S) -> None:
        self.request = request
        self._every_s = every_s
        self._patience_s = max(patience_s, every_s)
        self._sent: float | None = None
        self._answered = False

    def due_in(self, now_s: float) -> float:
        """Seconds until the next request should go out; 0 when it is due."""
        if self._sent is None:
            return 0.0
        wait = self._every_s if self._answered else self._patience_s
        return max(0.0, self._sent + wait - now_s)

    def sent(self, now_s: float) -> None:
        """The request went out."""
        self._sent, self._answered = now_s, False

    def heard(self) -> None:
        """A complete frame came in, whatever it said."""
        self._answered = True
