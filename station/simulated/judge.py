"""What the demo's person finds in a part: invented by a seed, with a few faults as a workshop knows them."""

from __future__ import annotations

import random
import re
from typing import Final

from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.judging_messages import Judge, JudgingCommand, ReadHardness, WeighPart
from station.core.mass import Mass
from station.records import BatchRecord

BY: Final = "demo"
EARLY: Final = 0.9
"""Invented: what a part has of its hardness when it comes out of the mold."""
_FAULTS: Final = (
    Defect(DefectKind.BUBBLES, Severity.SLIGHT, "under the top"),
    Defect(DefectKind.FLASH, Severity.SLIGHT, "parting line"),
    Defect(DefectKind.SOFT_SPOT, Severity.CLEAR, "near the sprue"),
    Defect(DefectKind.SHORT_SHOT, Severity.SPOILT, "far corner"),
)


def at_demold(record: BatchRecord, seed: int) -> tuple[JudgingCommand, ...]:
    """Weigh it as it came out, read it if its sheet names a hardness, and judge it."""
    chance = random.Random(f"part {seed} {record.number}")
    number = record.number
    weighed = WeighPart(number, _rounded(record.actual_total.times(chance.uniform(0.93, 0.97)), record), False, BY)
    found = chance.random()
    defects = () if found < 0.7 else (chance.choice(_FAULTS),)
    worst = max((list(Severity).index(one.severity) for one in defects), default=-1)
    verdict = Verdict.GOOD if worst < 0 else Verdict.SCRAP if worst == 2 else Verdict.USABLE
    return (weighed, *_readings(record, chance, EARLY), Judge(number, verdict, defects, "", BY))


def at_full_cure(record: BatchRecord, seed: int) -> tuple[JudgingCommand, ...]:
    """Read it once more, where its sheet names a hardness."""
    return _readings(record, random.Random(f"cured {seed} {record.number}"), 1.0)


def _rounded(mass: Mass, record: BatchRecord) -> Mass:
    step = max(1, record.readability.mg)
    return Mass(round(mass.mg / step) * step)


def _readings(record: BatchRecord, chance: random.Random, share: float) -> tuple[JudgingCommand, ...]:
    sheet = "" if record.part is None else record.part.sheet_hardness
    scale = next((one for one in HardnessScale if one.value in sheet), None)
    value = re.search(r"\d+(?:\.\d+)?", sheet.replace("00", "") if scale is HardnessScale.SHORE_00 else sheet)
    if scale is None or value is None:
        return ()
    middle = float(value.group()) * share
    places = ("middle", "left", "right")
    return tuple(
        ReadHardness(record.number, scale, min(100.0, max(0.0, round(chance.gauss(middle, 0.8) * 2) / 2)), at, None, BY)
        for at in places
    )
