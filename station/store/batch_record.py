"""The batch record on paper: one cast as plain text, and as dictionaries for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from station.core.mass import Mass
from station.part_words import part_facts
from station.records import AlarmRecord, BatchRecord, IngredientRecord, OutageRecord, PhotoRecord, RemarkRecord, When
from station.store.codec import plain
from station.texts import number, said, t


def as_dict(record: BatchRecord) -> dict[str, Any]:
    """The record for JSON, in English: masses in whole milligrams, times ISO 8601 in UTC, spans in seconds."""
    content: dict[str, Any] = plain(record)
    return content


def as_text(record: BatchRecord) -> str:
    """The record as a person reads it, every line with its units."""
    title = t("Cast {number}: {material} in {mold}", number=record.number, material=record.material, mold=record.mold)
    stage = t(record.stage.value)
    lines = [title, f"  {stage}: {said(record.ending)}" if record.ending else f"  {stage}"]
    sections = [
        (t("Times (UTC)"), _times(record)),
        (t("Amounts"), _amounts(record)),
        (t("Ratio by weight"), _ratio(record)),
        (t("Weighings"), _weighings(record)),
        (t("Overshoots"), _remarks(record.overshoots)),
        (t("Alarms"), [_alarm(alarm) for alarm in record.alarms]),
        (t("Missed"), [said(one) for one in record.missed]),
        (t("Interruptions"), [*_remarks(record.interruptions), *_outages(record)]),
        (t("Notes"), [*record.plan_notes, *_remarks(record.remarks)]),
        (t("Part"), _part(record)),
        (t("What was said of the part"), [] if record.part is None else _remarks(record.part.told)),
        (t("Photos"), [_photo(one) for one in record.photos]),
    ]
    for heading, body in sections:
        if body:
            lines += ["", heading, *(f"  {line}" for line in body)]
    return "\n".join(lines) + "\n"


def when_text(at: When | None) -> str:
    """A wall time to the second; a clock that was never trusted is said so."""
    if at is None:
        return "-"
    told = f"{at.wall:%Y-%m-%d %H:%M:%S}"
    return told if at.sure else t("{time} (clock not trusted)", time=told)


def span_text(seconds: float | None) -> str:
    """A span of time in the two units that matter at its size."""
    if seconds is None:
        return t("unknown time")
    whole = round(seconds)
    if abs(whole) < 120:
        return f"{whole} s"
    if abs(whole) < 7200:
        return f"{whole // 60} min {whole % 60} s"
    return f"{whole // 3600} h {whole % 3600 // 60} min"


def _row(label: str, words: str) -> str:
    return f"{label:<14} {words}"


def _percent(value: float | None) -> str:
    return "-" if value is None else f"{number(value + 0.0, '+.2f')} %"


def _times(record: BatchRecord) -> list[str]:
    course = record.course
    begun = t("{time} by {by}", time=when_text(course.begun), by=t(record.begun_by))
    lines = [_row(t("begun"), begun)]
    pot_life = t(
        "{time} after first contact, pot life {pot_life}",
        time=span_text(course.contact_to_poured_s),
        pot_life=span_text(record.pot_life_s),
    )
    rows = [
        (t("first contact"), course.contact, ""),
        (t("mixing from"), course.mix_started, ""),
        (t("mixed"), course.mixed, t("mixed for {time}", time=span_text(course.mix_s))),
        (t("poured"), course.poured, pot_life),
        (t("closed"), course.closed, t("{time} after first contact", time=span_text(course.contact_to_closed_s))),
        (t("demolded"), course.demolded, t("{time} after the pour", time=span_text(course.poured_to_demolded_s))),
    ]
    for label, at, span in rows:
        if at is not None:
            lines.append(_row(label, f"{when_text(at)}   {span}" if span else when_text(at)))
    if record.temperatures_c:
        low, high = number(min(record.temperatures_c), ".1f"), number(max(record.temperatures_c), ".1f")
        told = f"{low} °C" if low == high else t("{low} °C to {high} °C", low=low, high=high)
        lines.append(_row(t("temperature"), told))
    if record.humidities_percent:
        low, high = number(min(record.humidities_percent), ".0f"), number(max(record.humidities_percent), ".0f")
        told = f"{low} %" if low == high else t("{low} % to {high} %", low=low, high=high)
        lines.append(_row(t("humidity"), told))
    return lines


def _amounts(record: BatchRecord) -> list[str]:
    d = record.readability
    planned, mixed = record.planned_total.text(d), record.actual_total.text(d)
    lines = [_row(t("total"), t("planned {planned}, in the mix {mixed}", planned=planned, mixed=mixed))]
    if record.left_in_cup is not None:
        lines.append(_row(t("left in cup"), record.left_in_cup.text(d)))
    way = t(record.way)
    lines.append(_row(t("way"), f"{way}: {record.way_reason}" if record.way_reason else way))
    for one in record.ingredients:
        lines += _ingredient(one, d)
    return lines


def _ingredient(one: IngredientRecord, d: Mass) -> list[str]:
    lot = "   " + t("lot {lot}", lot=one.lot) if one.lot else ""
    planned = one.planned.text(d)
    if one.actual is None or one.target is None or one.low is None or one.high is None or one.in_mix is None:
        return [_row(one.ingredient, t("planned {planned}, nothing accepted", planned=planned) + lot)]
    weighed = t(
        "planned {planned}, weighed {actual}, target {target}, window {low} … {high}",
        planned=planned,
        actual=one.actual.text(d),
        target=one.target.text(d),
        low=one.low.text(d),
        high=one.high.text(d),
    )
    lines = [_row(one.ingredient, weighed), _row("", t("error {error}", error=_percent(one.error_percent)) + lot)]
    if one.in_mix != one.actual:
        lines.append(_row("", t("{mass} in the mix ({how})", mass=one.in_mix.text(d), how=said(one.in_mix_by))))
    return lines


def _ratio(record: BatchRecord) -> list[str]:
    sheet = " : ".join(f"{one.component} {number(one.sheet, '.2f')}" for one in record.ratio)
    told = t("{ratio}, by weight {shares}", ratio=said(record.sheet_ratio), shares=sheet)
    lines = [_row(t("sheet"), told)]
    if any(one.actual is None for one in record.ratio):
        return [*lines, _row(t("mixed"), t("not yet complete"))]
    mixed = " : ".join(f"{one.component} {number(one.actual or 0.0, '.2f')}" for one in record.ratio)
    errors = ", ".join(f"{one.component} {_percent(one.error_percent)}" for one in record.ratio[1:])
    return [*lines, _row(t("mixed"), mixed), *([_row(t("error"), errors)] if errors else [])]


def _weighings(record: BatchRecord) -> list[str]:
    d = record.readability
    lines: list[str] = []
    for one in record.weighings:
        words = t(
            "{ingredient} into {cup}: {net} for {target} ({low} … {high})",
            ingredient=one.ingredient,
            cup=t(one.cup),
            net=one.net.text(d),
            target=one.target.text(d),
            low=one.low.text(d),
            high=one.high.text(d),
        )
        lines.append(f"{when_text(one.at)}  " + (t("{pour}, reopened", pour=words) if one.reopened else words))
    return lines


def _remarks(remarks: Iterable[RemarkRecord]) -> list[str]:
    return [f"{when_text(one.at)}  {said(one.words)}" + (f" ({t(one.by)})" if one.by else "") for one in remarks]


def _part(record: BatchRecord) -> list[str]:
    if record.part is None:
        return []
    return [_row(label, words) for label, words in part_facts(record.part, record.readability)]


def _photo(one: PhotoRecord) -> str:
    caption = one.caption or t("without a caption")
    words = f"{when_text(one.added.at)}  {caption} ({t(one.added.by)}), {one.name}.jpg"
    if one.removed is None:
        return words
    return t("{photo}, removed {time} ({by})", photo=words, time=when_text(one.removed.at), by=t(one.removed.by))


def _outages(record: BatchRecord) -> list[str]:
    return [f"{when_text(one.back)}  {_outage(one)}" for one in record.outages]


def _outage(one: OutageRecord) -> str:
    if one.last_seen is None:
        return t("station back after {time}", time=span_text(one.seconds))
    seen = when_text(one.last_seen)
    return t("station back after {time}, last seen {seen}", time=span_text(one.seconds), seen=seen)


def _alarm(alarm: AlarmRecord) -> str:
    clock = t(alarm.clock.value)
    if alarm.late_s is not None and alarm.late_s >= 1:
        clock = t("{clock}, {time} late", clock=clock, time=span_text(alarm.late_s))
    words, after = f"{when_text(alarm.raised)}  {clock}", span_text(alarm.after_s)
    if alarm.silenced is None:
        return t("{alarm}: not answered", alarm=words)
    if alarm.by:
        return t("{alarm}: acknowledged by {by} after {time}", alarm=words, by=t(alarm.by), time=after)
    return t("{alarm}: ended by what was done next, after {time}", alarm=words, time=after)
