"""The batch record on paper: one cast as plain text, and as dictionaries for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from station.core.mass import Mass
from station.records import AlarmRecord, BatchRecord, IngredientRecord, PhotoRecord, RemarkRecord, When
from station.store.codec import plain


def as_dict(record: BatchRecord) -> dict[str, Any]:
    """The record for JSON: masses in whole milligrams, times ISO 8601 in UTC, spans in seconds."""
    content: dict[str, Any] = plain(record)
    return content


def as_text(record: BatchRecord) -> str:
    """The record as a person reads it, every line with its units."""
    lines = [f"Cast {record.number}: {record.material} in {record.mold}", f"  {record.stage.value}"]
    if record.ending:
        lines[-1] += f": {record.ending}"
    sections = [
        ("Times (UTC)", _times(record)),
        ("Amounts", _amounts(record)),
        ("Ratio by weight", _ratio(record)),
        ("Weighings", _weighings(record)),
        ("Overshoots", _remarks(record.overshoots)),
        ("Alarms", [_alarm(alarm) for alarm in record.alarms]),
        ("Missed", list(record.missed)),
        ("Interruptions", [*_remarks(record.interruptions), *_outages(record)]),
        ("Notes", [*record.plan_notes, *_remarks(record.remarks)]),
        ("Photos", [_photo(one) for one in record.photos]),
    ]
    for title, body in sections:
        if body:
            lines += ["", title, *(f"  {line}" for line in body)]
    return "\n".join(lines) + "\n"


def when_text(at: When | None) -> str:
    """A wall time to the second; a clock that was never trusted is said so."""
    if at is None:
        return "-"
    return f"{at.wall:%Y-%m-%d %H:%M:%S}" + ("" if at.sure else " (clock not trusted)")


def span_text(seconds: float | None) -> str:
    """A span of time in the two units that matter at its size."""
    if seconds is None:
        return "unknown time"
    whole = round(seconds)
    if abs(whole) < 120:
        return f"{whole} s"
    if abs(whole) < 7200:
        return f"{whole // 60} min {whole % 60} s"
    return f"{whole // 3600} h {whole % 3600 // 60} min"


def _percent(value: float | None) -> str:
    return "-" if value is None else f"{value + 0.0:+.2f} %"


def _times(record: BatchRecord) -> list[str]:
    course = record.course
    lines = [f"begun          {when_text(course.begun)} by {record.begun_by}"]
    rows = [
        ("first contact", course.contact, ""),
        ("mixing from", course.mix_started, ""),
        ("mixed", course.mixed, f"mixed for {span_text(course.mix_s)}"),
        ("poured", course.poured, _pot_life(record)),
        ("closed", course.closed, f"{span_text(course.contact_to_closed_s)} after first contact"),
        ("demolded", course.demolded, f"{span_text(course.poured_to_demolded_s)} after the pour"),
    ]
    for label, at, span in rows:
        if at is not None:
            lines.append(f"{label:<14} {when_text(at)}" + (f"   {span}" if span else ""))
    if record.temperatures_c:
        low, high = min(record.temperatures_c), max(record.temperatures_c)
        lines.append(f"temperature    {low:.1f} °C" + ("" if low == high else f" to {high:.1f} °C"))
    return lines


def _pot_life(record: BatchRecord) -> str:
    used = record.course.contact_to_poured_s
    return f"{span_text(used)} after first contact, pot life {span_text(record.pot_life_s)}"


def _amounts(record: BatchRecord) -> list[str]:
    d = record.readability
    lines = [f"total          planned {record.planned_total.text(d)}, in the mix {record.actual_total.text(d)}"]
    if record.left_in_cup is not None:
        lines.append(f"left in cup    {record.left_in_cup.text(d)}")
    lines.append(f"way            {record.way}" + (f": {record.way_reason}" if record.way_reason else ""))
    for one in record.ingredients:
        lines += _ingredient(one, d)
    return lines


def _ingredient(one: IngredientRecord, d: Mass) -> list[str]:
    lot = f"   lot {one.lot}" if one.lot else ""
    head = f"{one.ingredient:<14} planned {one.planned.text(d)}"
    if one.actual is None or one.target is None or one.low is None or one.high is None or one.in_mix is None:
        return [f"{head}, nothing accepted{lot}"]
    window = f"window {one.low.text(d)} … {one.high.text(d)}"
    lines = [f"{head}, weighed {one.actual.text(d)}, target {one.target.text(d)}, {window}"]
    lines.append(f"{'':<14} error {_percent(one.error_percent)}{lot}")
    if one.in_mix != one.actual:
        lines.append(f"{'':<14} {one.in_mix.text(d)} in the mix ({one.in_mix_by})")
    return lines


def _ratio(record: BatchRecord) -> list[str]:
    sheet = " : ".join(f"{one.component} {one.sheet:.2f}" for one in record.ratio)
    lines = [f"sheet          {record.sheet_ratio}, by weight {sheet}"]
    if any(one.actual is None for one in record.ratio):
        return [*lines, "mixed          not yet complete"]
    mixed = " : ".join(f"{one.component} {one.actual:.2f}" for one in record.ratio)
    errors = ", ".join(f"{one.component} {_percent(one.error_percent)}" for one in record.ratio[1:])
    return [*lines, f"mixed          {mixed}", *([f"error          {errors}"] if errors else [])]


def _weighings(record: BatchRecord) -> list[str]:
    d = record.readability
    lines: list[str] = []
    for one in record.weighings:
        words = f"{when_text(one.at)}  {one.ingredient} into {one.cup}: {one.net.text(d)}"
        words += f" for {one.target.text(d)} ({one.low.text(d)} … {one.high.text(d)})"
        lines.append(words + (", reopened" if one.reopened else ""))
    return lines


def _remarks(remarks: Iterable[RemarkRecord]) -> list[str]:
    return [f"{when_text(one.at)}  {one.words}" + (f" ({one.by})" if one.by else "") for one in remarks]


def _photo(one: PhotoRecord) -> str:
    words = f"{when_text(one.added.at)}  {one.caption or 'without a caption'} ({one.added.by}), {one.name}.jpg"
    return words if one.removed is None else f"{words}, removed {when_text(one.removed.at)} ({one.removed.by})"


def _outages(record: BatchRecord) -> list[str]:
    return [
        f"{when_text(one.back)}  station back after {span_text(one.seconds)}"
        + ("" if one.last_seen is None else f", last seen {when_text(one.last_seen)}")
        for one in record.outages
    ]


def _alarm(alarm: AlarmRecord) -> str:
    words = f"{when_text(alarm.raised)}  {alarm.clock.value}"
    if alarm.late_s is not None and alarm.late_s >= 1:
        words += f", {span_text(alarm.late_s)} late"
    if alarm.silenced is None:
        return f"{words}: not answered"
    how = f"acknowledged by {alarm.by}" if alarm.by else "ended by what was done next,"
    return f"{words}: {how} after {span_text(alarm.after_s)}"
