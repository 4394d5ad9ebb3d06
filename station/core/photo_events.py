"""Events of the photos of a cast. The pictures lie beside the record; what they were is a fact of it.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

MOST_BYTES: Final = 10 * 1024 * 1024
"""Of a photo, as it is sent."""
MOST_OF_A_CAST: Final = 20
"""Photos that are shown of one cast."""


@dataclass(frozen=True, slots=True)
class PhotoAdded:
    """Photo `name` belongs to the cast. `digest` and `small` are the SHA-256 of its file and of the small one's.

    `wide` and `high` are the sides of the larger in dots.
    """

    number: int
    name: str
    digest: str
    small: str
    wide: int
    high: int
    caption: str
    by: str


@dataclass(frozen=True, slots=True)
class PhotoRemoved:
    """Photo `name` is not shown any more. Its file stays."""

    number: int
    name: str
    by: str
