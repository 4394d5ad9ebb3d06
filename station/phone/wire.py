"""The API in one page: a snapshot as plain JSON values. The page draws what stands here and computes nothing."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from station.core.mass import Mass
from station.core.moment import Moment
from station.core.snapshot import (
    AlarmView,
    BenchView,
    ColumnView,
    CuringView,
    DialView,
    Fill,
    ScaleView,
    Snapshot,
    StepView,
)
from station.phone.draw import BAND_HIGH, BAND_LOW, arc, column_height
from station.phone.words import age_text, clock_text, mass_text, past_text, span_text

Json = dict[str, Any]

FILL_WORDS = {
    Fill.UNDER: "keep pouring",
    Fill.NEAR: "slowly now",
    Fill.IN_BAND: "stop, hands off",
    Fill.OVER: "too much",
}


def state(snapshot: Snapshot) -> Json:
    """Everything a page shows. Masses as text for people and in mg for drawing; times in seconds left."""
    d = snapshot.scale.readability
    return {
        "seq": snapshot.seq,
        "now": clock_text(snapshot.at.wall, snapshot.at.wall),
        "sure": snapshot.at.trusted,
        "scale": _scale(snapshot.scale),
        "bench": None if snapshot.bench is None else _bench(snapshot.bench, snapshot.at, d),
        "curing": [_curing(cast, snapshot.at) for cast in _next_first(snapshot.curing)],
        "alarms": [_alarm(alarm) for alarm in snapshot.alarms],
        "cue": None
        if snapshot.last_cue is None
        else {
            "name": snapshot.last_cue.cue.name,
            "words": snapshot.last_cue.words,
            "count": snapshot.last_cue.count,
        },
        "banners": [{"kind": banner.kind.value, "words": banner.words} for banner in snapshot.banners],
        "unsaved": snapshot.unsaved,
    }


def _next_first(casts: tuple[CuringView, ...]) -> list[CuringView]:
    """The cast that needs somebody soonest comes first."""

    def left(cast: CuringView) -> float:
        waiting = [dial.left_s for dial in cast.dials if dial.left_s > 0]
        return min(waiting, default=float("-inf"))

    return sorted(casts, key=left)


def _scale(scale: ScaleView) -> Json:
    return {
        "state": scale.state.name,
        "gross": None if scale.gross is None else mass_text(scale.gross, scale.readability),
        "age": age_text(scale.age_s),
        "at_rest": scale.at_rest,
        "words": scale.words,
    }


def _bench(bench: BenchView, at: Moment, d: Mass) -> Json:
    return {
        "number": bench.number,
        "material": bench.material,
        "mold": bench.mold,
        "total": mass_text(bench.total, d),
        "way": bench.way,
        "way_reason": bench.way_reason,
        "strip": [_step(step) for step in bench.strip],
        "title": bench.title,
        "words": bench.words,
        "column": None if bench.column is None else _column(bench.column, d),
        "dials": [_dial(dial, at) for dial in bench.dials],
        "paused": bench.paused,
        "press_means": bench.press_means,
        "cautions": list(bench.cautions),
        "items": list(bench.items),
        "notes": list(bench.notes),
    }


def _step(step: StepView) -> Json:
    return {"label": step.label, "detail": step.detail, "state": step.state.value}


def _column(column: ColumnView, d: Mass) -> Json:
    net = column.net
    known = net is not None
    left = None if net is None else column.target - net
    return {
        "ingredient": column.ingredient,
        "cup": column.cup,
        "target": mass_text(column.target, d),
        "low": mass_text(column.low, d),
        "high": mass_text(column.high, d),
        "net": None if net is None else mass_text(net, d),
        "left": None if left is None else mass_text(abs(left), d),
        "over": left is not None and left.mg < 0,
        "fill": column.fill.name if known else "UNKNOWN",
        "fill_words": FILL_WORDS[column.fill] if known else "waiting for the cup",
        "height": 0.0 if net is None else round(column_height(net, column.low, column.high), 2),
        "band": [BAND_LOW, BAND_HIGH],
        "rule": column.rule,
    }


def _dial(dial: DialView, at: Moment) -> Json:
    past = dial.left_s <= 0
    return {
        "kind": dial.kind.name,
        "label": dial.kind.value,
        "arc": arc(dial.fraction),
        "left_s": round(dial.left_s, 2),
        "length_s": dial.length_s,
        "left": f"{past_text(-dial.left_s)} ago" if past else span_text(dial.left_s),
        "past": past,
        "running": dial.running,
        "alarm": dial.alarm.name,
        "due": _due(dial.due, at.wall),
        "unknown_gap": dial.unknown_gap,
    }


def _due(due: datetime | None, now: datetime) -> str:
    return "" if due is None else clock_text(due, now)


def _curing(cast: CuringView, at: Moment) -> Json:
    return {
        "number": cast.number,
        "material": cast.material,
        "mold": cast.mold,
        "dials": [_dial(dial, at) for dial in cast.dials],
        "demolded": cast.demolded,
        "demold_due": _due(cast.demold_due, at.wall),
        "words": cast.words,
    }


def _alarm(alarm: AlarmView) -> Json:
    return {
        "number": alarm.number,
        "clock": alarm.clock.name,
        "since": "" if alarm.since_s is None else past_text(alarm.since_s),
        "urgency": alarm.urgency.name,
        "words": alarm.words,
    }
