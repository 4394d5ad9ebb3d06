"""How a scale hands out its readings, and why one of the ways cannot guide a weighing."""

from __future__ import annotations

from enum import Enum


class Delivery(Enum):
    """Unasked and always; when asked; at a key or once the load rests."""

    STREAM = "stream"
    ON_REQUEST = "on request"
    ON_REST = "at a key or at rest"


CURE = (
    "The scale sends a line only at its key or once a load rests, and many such scales send the next one only "
    "after the pan was empty: the second component would never be seen. Set its output to stream (continuous) or to "
    "request in the scale's menu, and find it again."
)
"""What is said of `ON_REST`."""
