"""Facts of casts made up for tests."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.insight.facts import CastFacts

DAY = datetime(2026, 3, 2, 9, tzinfo=UTC)
GOOD, USABLE, SCRAP = Verdict


def cast(number: int, **other) -> CastFacts:
    """Cast `number`, a day after the one before, of one mold and one material unless `other` says otherwise."""
    plain = CastFacts(
        number=number,
        begun=DAY + timedelta(days=number),
        mold="pad",
        mold_title="Pad",
        material="foam",
        material_title="Foam",
        mold_shot=number,
    )
    return replace(plain, **other)


def defect(kind: DefectKind, severity: Severity = Severity.CLEAR) -> Defect:
    return Defect(kind, severity)
