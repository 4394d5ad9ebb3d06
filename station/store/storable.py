"""What a table can hold of a text."""

from __future__ import annotations


def storable(text: str) -> str:
    """Text as a table can hold it: no halves of surrogate pairs, no NUL. The journal keeps the original."""
    return text.replace("\0", "").encode("utf-8", "replace").decode("utf-8")
