"""Lead: what a led pour asks of the hand, in a word."""

from __future__ import annotations

from enum import Enum

from station.texts import N_


class Lead(Enum):
    """What a led pour asks of the hand."""

    FREE = N_("pour freely")
    EASE = N_("ease off")
    SLOW = N_("slower")
    TRICKLE = N_("a thin stream")
    STOP = N_("stop, let it settle")
