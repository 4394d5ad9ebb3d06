"""Counting what is asked of a pretended computer and what changes in its files, so that it can break at each."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Protocol


class Counting(Protocol):
    """Whoever counts changes below a root."""

    root: Path

    def one_more(self) -> None:
        """One more thing is about to be done."""
        ...


_CHANGES = {"os.rename", "os.symlink", "os.remove", "os.rmdir", "os.mkdir", "os.chmod"}
counting: list[Counting] = []
"""Who counts now; one at most."""


class Killed(BaseException):
    """The process is gone in this instant: nothing of it runs any more."""


def _heard(event: str, arguments: tuple[object, ...]) -> None:
    if not counting:
        return
    writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)
    if not (event in _CHANGES or writes):
        return
    place = str(arguments[0])
    # What removes a whole folder names files as they are called in it.
    if place.startswith(str(counting[0].root)) or not place.startswith("/"):
        counting[0].one_more()


sys.addaudithook(_heard)
