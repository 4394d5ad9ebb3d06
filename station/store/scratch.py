"""A folder for a moment: in memory while that has room, so that the card is neither needed nor worn."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

MEMORY: Final = Path("/dev/shm")
"""A file system in memory that every Linux has."""
SHARE: Final = 4
"""At most this part of the free memory file system is taken."""


@contextmanager
def scratch(size: int) -> Iterator[Path]:
    """A new folder with room for `size` bytes, gone at the end. Raises OSError."""
    with TemporaryDirectory(prefix="record-", dir=MEMORY if _has_room(size) else None) as folder:
        yield Path(folder)


def _has_room(size: int) -> bool:
    try:
        return MEMORY.is_dir() and shutil.disk_usage(MEMORY).free >= SHARE * size
    except OSError:
        return False
