"""What a trial finds, a line each, said as soon as it is known."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager


class Report:
    """Figures in their order. Wall time on a machine that may have other work: compare, never gate."""

    def __init__(self, title: str) -> None:
        print(f"== {title}", flush=True)

    def tell(self, what: str, figure: object) -> None:
        """One more line."""
        print(f"{what}: {figure}", flush=True)

    @contextmanager
    def timed(self, what: str) -> Iterator[None]:
        """A line with the seconds that the block took."""
        began = time.monotonic()
        yield
        self.tell(what, f"{time.monotonic() - began:.0f} s")
