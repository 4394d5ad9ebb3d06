"""Text as a table can hold it."""

from __future__ import annotations


def storable(text: str) -> str:
    """Without halves of surrogate pairs and NUL. The journal keeps the original."""
    return text.replace("\0", "").encode("utf-8", "replace").decode("utf-8")
