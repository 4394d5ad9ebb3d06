"""How a scale hands out its readings, and why one of the ways cannot guide a weighing."""

from __future__ import annotations

from enum import Enum

from station.texts import N_


class Delivery(Enum):
    """Unasked and always; when asked; at a key or once the load rests."""

    STREAM = N_("stream")
    ON_REQUEST = N_("on request")
    ON_REST = N_("at a key or at rest")


CURE = N_(
    "The scale sends a line only at its key or once a load rests, and many such scales send the next one only "
    "after the pan was empty: the second component would never be seen. Set its output to stream (continuous) or to "
    "request in the scale's menu, and find it again."
)
"""What is said of `ON_REST`."""
