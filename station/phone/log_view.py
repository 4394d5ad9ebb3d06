"""What the pages of the log are given, and which casts an address of the log asks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Protocol

from station.core.judging_events import DefectKind, Verdict
from station.core.trace import Points
from station.records import Asked, BatchRecord, CastPage, Known, Stage
from station.texts import t

LONGEST = 100
"""More letters than this are no search."""

ENDS = {stage.name.lower(): stage for stage in Stage}
VERDICTS = {verdict.name.lower(): verdict for verdict in Verdict}
NO_VERDICT = "none"
DEFECTS = {defect.name.lower(): defect for defect in DefectKind}


class LogBook(Protocol):
    """The record, read only; called from many threads at once. Each raises Fault when it cannot be read."""

    def page(self, asked: Asked, *, before: int | None = None, after: int | None = None, limit: int = 30) -> CastPage:
        """Of the casts asked for those numbered below `before`, or above `after`: the nearest `limit`, newest first."""
        ...

    def number(self, wanted: int) -> bool:
        """Whether there is a cast of this number."""
        ...

    def molds(self) -> Sequence[Known]:
        """Every mold that was ever cast in."""
        ...

    def materials(self) -> Sequence[Known]:
        """Every material that was ever cast."""
        ...

    def record(self, number: int) -> BatchRecord | None:
        """The whole batch record of a cast."""
        ...

    def trace(self, number: int, step: int) -> Points | None:
        """What the scale showed in a step."""
        ...

    def text(self, record: BatchRecord) -> str:
        """A record as plain text."""
        ...

    def plain(self, record: BatchRecord) -> dict[str, Any]:
        """A record as JSON has it."""
        ...


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the address of the log, as it was typed."""

    search: str = ""
    end: str = ""
    mold: str = ""
    material: str = ""
    since: str = ""
    until: str = ""
    verdict: str = ""
    defect: str = ""

    @property
    def narrowed(self) -> bool:
        """Whether more than words is asked for."""
        return any((self.end, self.mold, self.material, self.since, self.until, self.verdict, self.defect))

    def fields(self) -> dict[str, str]:
        """Names and values for an address, without the empty ones."""
        names = ("search", "end", "mold", "material", "since", "until", "verdict", "defect")
        return {name: value for name in names if (value := getattr(self, name))}

    def without(self, name: str) -> dict[str, str]:
        """The same, less one."""
        return {other: value for other, value in self.fields().items() if other != name}


def typed_of(args: Mapping[str, str]) -> Typed:
    """What an address says, with spaces and length put right."""
    return Typed(
        search=_put_right(args.get("search", "")),
        end=_put_right(args.get("end", "")),
        mold=_put_right(args.get("mold", "")),
        material=_put_right(args.get("material", "")),
        since=_put_right(args.get("since", "")),
        until=_put_right(args.get("until", "")),
        verdict=_put_right(args.get("verdict", "")),
        defect=_put_right(args.get("defect", "")),
    )


def _put_right(text: str) -> str:
    return " ".join(text.split())[:LONGEST]


def asked_of(typed: Typed) -> tuple[Asked, dict[str, str]]:
    """Which casts that asks for, and what is wrong with it by field; what is wrong is left out."""
    slips: dict[str, str] = {}
    if typed.end and typed.end not in ENDS:
        slips["end"] = t("There is no such end. Choose one of the list.")
    if typed.verdict and typed.verdict not in {*VERDICTS, NO_VERDICT}:
        slips["verdict"] = t("There is no such verdict. Choose one of the list.")
    if typed.defect and typed.defect not in DEFECTS:
        slips["defect"] = t("There is no such defect. Choose one of the list.")
    since, until = day_typed(typed.since, "since", slips), day_typed(typed.until, "until", slips)
    if since is not None and until is not None and until < since:
        slips["until"] = t("The last day lies before the first. Exchange the two.")
        until = None
    asked = Asked(
        search=typed.search,
        stage=ENDS.get(typed.end),
        mold=typed.mold,
        material=typed.material,
        since=None if since is None else midnight(since),
        until=None if until is None else midnight(until + timedelta(days=1)),
        verdict=VERDICTS.get(typed.verdict),
        unjudged=typed.verdict == NO_VERDICT,
        defect=DEFECTS.get(typed.defect),
    )
    return asked, slips


def day_typed(typed: str, field: str, slips: dict[str, str]) -> date | None:
    """The day that was typed into `field`; None, and a slip, when it is none, and None when nothing was typed."""
    if not typed:
        return None
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        day = None
    if day is None or not date(1971, 1, 1) <= day <= date(2200, 1, 1):
        slips[field] = t("{typed} is no day. Write it as in 2026-03-02.", typed=repr(typed[:20]))
        return None
    return day


def midnight(day: date) -> datetime:
    """The day's beginning at the bench, in UTC."""
    return datetime.combine(day, time()).astimezone().astimezone(UTC)
