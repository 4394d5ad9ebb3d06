"""What a label says of a cast: on the part, on the mold while it cures, on the cup with what was left."""

from __future__ import annotations

from typing import IO

from station.address.code import rows
from station.core.spans import about
from station.export.form import Told
from station.export_desk.label_wish import LabelWish, On
from station.paper.labels import Label, write_labels
from station.phone.words import day_text
from station.records import When
from station.texts import said, t


def labels(told: Told, wish: LabelWish, url: str, out: IO[bytes]) -> None:
    """Write the labels of a cast as PDF; their code leads to `url`."""
    write_labels(label(told, wish.on, url), wish.size, out, copies=wish.copies, start=wish.start - 1)


def label(told: Told, on: On, url: str) -> Label:
    """The label; its code leads to `url`."""
    record, plan = told.record, told.plan
    day = _day(record.course.begun)
    lines: tuple[str, ...]
    match on:
        case On.PART:
            lines = (record.mold, record.material, day)
        case On.MOLD:
            since = t("begun {at}", at=_at(record.course.begun))
            if record.course.poured is not None:
                since = t("poured {at}", at=_at(record.course.poured))
            demold = about(plan.material.times.demold_s)
            lines = (record.mold, record.material, since, t("in the mold at least {time}", time=demold))
        case On.CUP:
            lots = ", ".join(f"{one.component} {one.number}" for one in plan.lots)
            lines = (record.material, said(record.sheet_ratio), *filter(None, (lots,)), day)
    return Label(str(record.number), lines, rows(url))


def _day(at: When) -> str:
    return day_text(at.wall) if at.sure else t("{day} (clock not set)", day=day_text(at.wall))


def _at(at: When) -> str:
    told = f"{at.wall.astimezone():%Y-%m-%d %H:%M}"
    return told if at.sure else t("{day} (clock not set)", day=told)
