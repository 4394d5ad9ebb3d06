"""What a reader sees of parts: the one that the bench asks for, and those of which it reminds."""

from __future__ import annotations

from typing import Final

from station.core.judging_standing import Part
from station.core.mass import Mass
from station.core.moment import Moment, gap_s
from station.core.pan import Pan
from station.core.part_words import density_words, packing_words
from station.core.parts import asked, fits, on_pan
from station.core.snapshot import PartView, WaitingView
from station.core.standing import Standing
from station.texts import t

REMINDED_S: Final = 14 * 86400.0
"""So long after it came out a part is called to mind; later it only stands in the list of those that wait."""


def part_view(standing: Standing, pan: Pan, now: Moment) -> PartView | None:
    """The part that is asked for at a free bench, with what lies on the pan if that is at rest."""
    part = None if standing.bench is not None else asked(standing, now)
    if part is None:
        return None
    mass = on_pan(pan, part, now)
    step = part.scale.readability
    if mass is not None:
        words = _worked_out(part, mass, step)
        if not fits(part, mass):
            words = t("{mixed} were mixed for it: is this the part?", mixed=part.mixed.text(step))
    elif pan.zero is None:
        words = t("Clear the pan first, then put the part on it.")
    else:
        words = t("Put the part on the pan.")
    return PartView(part.number, part.mold, mass, words, takes=mass is not None and fits(part, mass))


def _worked_out(part: Part, mass: Mass, step: Mass) -> str:
    told = (density_words(mass, part.cavity_cm3, step), packing_words(mass, part.cavity_cm3, part.free_rise))
    return "; ".join(filter(None, told))


def waiting_views(standing: Standing, now: Moment) -> tuple[WaitingView, ...]:
    """Parts to be called to mind, the one demolded first at the front: for a verdict, or for a reading at full cure."""
    found = []
    for part in standing.parts:
        words = waits_for(standing, part)
        out_s = gap_s(part.demolded, now)
        cured_s = None if part.cured is None else gap_s(part.cured, now)
        since_s = [one for one in (out_s, cured_s) if one is not None]
        if words and since_s and min(since_s) <= REMINDED_S:
            found.append(WaitingView(part.number, part.material, part.mold, words))
    return tuple(found)


def waits_for(standing: Standing, part: Part) -> str:
    """What is still to be said of a part; empty for nothing that is due now."""
    due = []
    if part.verdict is None:
        due.append(t("no verdict yet"))
    if reading_due(standing, part):
        due.append(t("fully cured: read its hardness"))
    return "; ".join(due)


def reading_due(standing: Standing, part: Part) -> bool:
    """Whether its hardness is to be read now that it is fully cured.

    It is where one was read before, or where the sheet names a hardness and this workshop reads hardness at all.
    """
    reads = part.early or (bool(part.hardness) and standing.last_reading > 0)
    return part.cured is not None and not part.late and reads
