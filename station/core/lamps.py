"""The three lamps of the bench: their short names, and what each says while it is lit."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType

from station.texts import N_


class Lamp(Enum):
    """A lamp. The value is its name in words, for a label beside it."""

    READY = N_("something to do")
    BUSY = N_("a clock runs")
    ATTENTION = N_("look here")


LIT: Mapping[Lamp, str] = MappingProxyType(
    {
        Lamp.READY: N_("A cast is at the bench, the scale is read, and the station waits for you."),
        Lamp.BUSY: N_("A pot life, a mix or a cure is counted."),
        Lamp.ATTENTION: N_("An alarm waits for a press, or something is wrong: the scale, the record, the time."),
    }
)
"""What each says while it is lit."""
