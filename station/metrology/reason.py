"""What a scale may be used for, and a reason for it in a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from station.texts import N_


class Verdict(StrEnum):
    """What the scale may be used for."""

    FIT = N_("fit")
    FIT_WITH_LIMITS = N_("fit with limits")
    NOT_FIT = N_("not fit")


@dataclass(frozen=True, slots=True)
class Reason:
    """One sentence, and the best verdict that it allows."""

    allows: Verdict
    words: str
