"""What a trial found, as lines of a table; each is said as soon as it is known."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager


class Report:
    """Figures in their order. Wall time on a machine that may have other work: compare, never gate."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.rows: list[tuple[str, str]] = []
        print(f"== {title}", flush=True)

    def tell(self, what: str, figure: object) -> None:
        """One more line."""
        self.rows.append((what, str(figure)))
        print(f"{what}: {figure}", flush=True)

    @contextmanager
    def timed(self, what: str) -> Iterator[None]:
        """A line with the seconds that the block took."""
        began = time.monotonic()
        yield
        self.tell(what, f"{time.monotonic() - began:.0f} s")

    def table(self) -> str:
        """All of it once more, for a file."""
        return "\n".join([self.title, *(f"  {what}: {figure}" for what, figure in self.rows), ""])
