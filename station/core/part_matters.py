"""Which parts are worth a message to somebody away from the bench: a reminder, never an alarm."""

from __future__ import annotations

from typing import Final

from station.core.matters import Matter, Occasion
from station.core.moment import Moment, gap_s
from station.core.part_view import REMINDED_S, reading_due
from station.core.standing import Standing
from station.texts import t

LEFT_ALONE_S: Final = 86400.0
"""So long somebody may take for a verdict before a message is sent."""


def part_matters(standing: Standing, now: Moment) -> tuple[Matter, ...]:
    """Parts without a verdict for a day, and those whose hardness is to be read at full cure."""
    found = []
    for part in standing.parts:
        out_s = gap_s(part.demolded, now)
        if part.verdict is None and out_s is not None and LEFT_ALONE_S <= out_s <= REMINDED_S:
            words = t("Cast {number}, {mold}: its part waits for a verdict.", number=part.number, mold=part.mold)
            found.append(Matter(f"verdict-{part.number}", Occasion.JUDGING, words))
        cured_s = None if part.cured is None else gap_s(part.cured, now)
        if reading_due(standing, part) and cured_s is not None and cured_s <= REMINDED_S:
            words = t("Cast {number}, {mold}: fully cured, read its hardness.", number=part.number, mold=part.mold)
            found.append(Matter(f"reading-{part.number}", Occasion.JUDGING, words))
    return tuple(found)
