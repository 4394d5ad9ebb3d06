"""What the pages of judging are given, and how a part stands on its page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from station.core.judging_events import DefectKind, HardnessScale, Severity, Verdict
from station.core.judging_messages import JudgingCommand, TakePart
from station.core.spans import about
from station.part_records import PartRecord
from station.part_words import part_facts, reading_words
from station.phone.judge_form import OF_ONE_KIND, READINGS
from station.phone.photo_view import PhotoView, photo_views
from station.phone.words import day_text
from station.records import BatchRecord, CastPage, Stage
from station.texts import said, t


class JudgeDesk(Protocol):
    """Called from many threads. Every refusal is a StationError."""

    def tell(self, command: JudgingCommand | TakePart) -> None:
        """Let it be a fact of the record."""
        ...

    def waiting(self, before: int | None, limit: int) -> CastPage:
        """Casts whose parts wait for a verdict, newest first."""
        ...


@dataclass(frozen=True, slots=True)
class DefectRow:
    """One kind of defect in the form: its field, its name, how bad it was said to be, and where."""

    field: str
    name: str
    severity: str
    place: str


@dataclass(frozen=True, slots=True)
class JudgeView:
    """The page of one part. `out`: it may be judged, else `why_not` says why not."""

    number: int
    mold: str
    material: str
    day: str
    out: bool
    why_not: str
    facts: tuple[tuple[str, str], ...]
    told: tuple[tuple[str, str, str], ...]
    readings: tuple[tuple[int, str], ...]
    places: tuple[str, ...]
    weighed: bool
    verdict: str
    waived: str
    note: str
    scale: str
    rows: tuple[DefectRow, ...]
    any_defect: bool
    photos: tuple[PhotoView, ...]

    verdicts: tuple[tuple[str, str], ...] = tuple((one.name, one.value) for one in Verdict)
    severities: tuple[tuple[str, str], ...] = tuple((one.name, one.value) for one in Severity)
    scales: tuple[tuple[str, str], ...] = tuple((one.name, one.value) for one in HardnessScale)
    reading_rows: tuple[int, ...] = tuple(range(1, READINGS + 1))


def judge_view(record: BatchRecord, typed: Mapping[str, str]) -> JudgeView:
    """The page of a record's part; `typed` is what a refused form had in it, and stays there."""
    part = record.part
    rows = _rows(part, typed)
    return JudgeView(
        number=record.number,
        mold=record.mold,
        material=record.material,
        day=day_text(record.course.begun.wall),
        out=record.stage is Stage.DEMOLDED,
        why_not=_why_not(record.stage),
        facts=() if part is None else part_facts(part, record.readability),
        told=() if part is None else tuple((_at(one.at.wall), said(one.words), t(one.by)) for one in part.told),
        readings=() if part is None else _readings(part),
        places=() if part is None else tuple(one.place for one in part.lengths),
        weighed=part is not None and part.mass is not None,
        verdict=typed.get("verdict", "" if part is None or part.verdict is None else part.verdict.name),
        waived="" if part is None else part.waived,
        note=typed.get("note", "" if part is None else part.note),
        scale=typed.get("scale", _usual_scale(part)),
        rows=rows,
        any_defect=any(row.severity for row in rows),
        photos=photo_views(record.number, record.photos),
    )


def _why_not(stage: Stage) -> str:
    if stage.open:
        return t("Its part is still in the mold. Once it is out it can be judged here.")
    return t("This cast was {stage}: there is no part to judge.", stage=t(stage.value))


def _at(wall: datetime) -> str:
    return f"{wall.astimezone():%Y-%m-%d %H:%M}"


def _readings(part: PartRecord) -> tuple[tuple[int, str], ...]:
    return tuple(
        (one.reading, reading_words(one, "" if one.since_demold_s is None else about(one.since_demold_s)))
        for one in part.readings
    )


def _usual_scale(part: PartRecord | None) -> str:
    """The scale read before; else the one that the sheet's hardness names."""
    if part is None:
        return ""
    if part.readings:
        return part.readings[-1].scale.name
    sheet = part.sheet_hardness.casefold().replace(" ", "")
    named = [one for one in HardnessScale if one.value.casefold().replace(" ", "") in sheet]
    return named[0].name if len(named) == 1 else ""


def _rows(part: PartRecord | None, typed: Mapping[str, str]) -> tuple[DefectRow, ...]:
    rows: list[DefectRow] = []
    for kind in DefectKind:
        known: Sequence[tuple[str, str]] = [
            (one.severity.name, one.place) for one in (() if part is None else part.defects) if one.kind is kind
        ]
        shown = max(1, min(OF_ONE_KIND, len(known)))
        for row in range(shown):
            severity, place = known[row] if row < len(known) else ("", "")
            field = f"{kind.name}-{row}"
            severity, place = typed.get(field, severity), typed.get(f"{field}-at", place)
            rows.append(DefectRow(field, t(kind.value), severity, place))
    return tuple(rows)
