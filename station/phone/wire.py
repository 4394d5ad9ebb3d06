"""Snapshot → plain values for a page: masses in milligrams and as text, enums by name and in words.

Everything a page shows is worked out here, so that the page with a script, the page without one and a
program that reads the API tell the same.
"""

from __future__ import annotations

from enum import Enum

from station.core.cues import Urgency
from station.core.mass import Mass
from station.core.snapshot import (
    AlarmView,
    Banner,
    BenchView,
    CueView,
    CuringView,
    Fill,
    ScaleState,
    ScaleView,
    Snapshot,
    StepState,
)
from station.phone import words
from station.phone.wire_clocks import dials
from station.phone.wire_column import column

Json = dict[str, object]


def state(seen: Snapshot) -> Json:
    """The whole state for `/api/state` and the stream."""
    step = seen.scale.readability
    return {
        "seq": seen.seq,
        "time": words.clock_text(seen.at.wall, seen.at.wall) if seen.at.trusted else "",
        "time_trusted": seen.at.trusted,
        "scale": scale(seen.scale),
        "bench": None if seen.bench is None else bench(seen.bench, seen),
        "free": seen.bench is None,
        "none_cures": not seen.curing,
        "curing": [curing(cast, seen) for cast in _soonest_first(seen.curing)],
        "curing_count": len(seen.curing) or "",
        "alarms": [alarm(one) for one in seen.alarms],
        "last_cue": None if seen.last_cue is None else cue(seen.last_cue),
        "banners": [banner(one) for one in seen.banners],
        "unsaved": seen.unsaved,
        "readability": mass(step, step),
    }


def named(value: Enum) -> Json:
    """An enum by name, for programs, and in words, for people."""
    return {"name": value.name, "words": value.value}


def mass(value: Mass, step: Mass) -> Json:
    """A mass in milligrams and as a scale of readability `step` shows it."""
    return {"mg": value.mg, "text": words.mass_text(value, step)}


def scale(view: ScaleView) -> Json:
    """The pan. `shown` is empty rather than old; `grey` asks to draw it as not to be relied on."""
    readable = view.state in (ScaleState.LIVE, ScaleState.STALE) and view.gross is not None
    gross = view.gross if readable else None
    live = view.state is ScaleState.LIVE
    return {
        "state": named(view.state),
        "gross": None if gross is None else mass(gross, view.readability),
        "shown": "" if gross is None else words.mass_text(gross, view.readability),
        "grey": not live,
        "at_rest": view.at_rest,
        "rest": _rest(view),
        "age_s": view.age_s,
        "age": "" if live else words.age_text(view.age_s),
        "words": view.words,
        "pan_words": view.words or f"on the pan, {_rest(view)}",
        "frames": view.frames,
    }


def _rest(view: ScaleView) -> str:
    match view.state:
        case ScaleState.LIVE:
            return "at rest" if view.at_rest else "moving"
        case ScaleState.STALE:
            return words.age_text(view.age_s)
        case ScaleState.BLANK:
            return "silent"
        case ScaleState.TROUBLE:
            return "trouble"
        case ScaleState.LOST:
            return "no scale"


def bench(view: BenchView, seen: Snapshot) -> Json:
    """The cast at the bench."""
    step = seen.scale.readability
    live = seen.scale.state is ScaleState.LIVE
    do, sign = _do(view, live)
    now = next((place for place, one in enumerate(view.strip, 1) if one.state is StepState.NOW), len(view.strip))
    return {
        "number": view.number,
        "material": view.material,
        "mold": view.mold,
        "total": mass(view.total, step),
        "way": view.way,
        "way_reason": view.way_reason,
        "strip": [
            {"place": place, "label": one.label, "detail": one.detail, "state": named(one.state)}
            for place, one in enumerate(view.strip, 1)
        ],
        "step": {"at": now, "of": len(view.strip)},
        "title": view.title,
        "words": view.words,
        "do": do,
        "sign": sign,
        "sign_at": f"#sign-{sign}",
        "of_what": "" if do == view.title else view.title,
        "view": "column" if view.column is not None else "clocks" if view.dials else "words",
        "column": None if view.column is None else column(view.column, step, live),
        "dials": dials(view.dials, seen.at),
        "paused": view.paused,
        "running": not view.paused,
        "press_means": view.press_means[:1].upper() + view.press_means[1:],
        "no_press": not view.press_means,
        "give_up_page": f"/give-up/{view.number}",
        "cautions": list(view.cautions),
        "items": list(view.items),
        "notes": list(view.notes),
    }


def _do(view: BenchView, live: bool) -> tuple[str, str]:
    """The largest words on the page, what the hands should do now, and the sign beside them.

    The sign's shape alone tells the cases apart. A weight that is not live never asks for more.
    """
    if view.paused:
        return "Paused", "paused"
    if view.column is None:
        return view.title, "step"
    if not live:
        return "No weight", "unknown"
    if view.column.net is None:
        return view.title, "step"
    return _POURING[view.column.fill]


_POURING = {
    Fill.UNDER: ("Keep pouring", "under"),
    Fill.NEAR: ("Slowly", "near"),
    Fill.IN_BAND: ("Stop pouring", "band"),
    Fill.OVER: ("Too much", "over"),
}


def _soonest_first(casts: tuple[CuringView, ...]) -> list[CuringView]:
    """The cast that needs somebody soonest comes first."""

    def left(cast: CuringView) -> float:
        if cast.demolded:
            return float("inf")
        return min((dial.left_s for dial in cast.dials), default=float("inf"))

    return sorted(casts, key=left)


def curing(view: CuringView, seen: Snapshot) -> Json:
    """A cast that cures."""
    return {
        "number": view.number,
        "material": view.material,
        "mold": view.mold,
        "dials": dials(view.dials, seen.at),
        "demolded": view.demolded,
        "in_mold": not view.demolded,
        "page": f"/log/{view.number}",
        "due": "" if view.demold_due is None else words.clock_text(view.demold_due, seen.at.wall),
        "words": view.words,
    }


def alarm(view: AlarmView) -> Json:
    """An alarm that sounds now."""
    return {
        "number": view.number,
        "clock": named(view.clock),
        "since_s": view.since_s,
        "since": "" if view.since_s is None else f"for {words.past_text(view.since_s)}",
        "urgency": named(view.urgency),
        "strong": view.urgency is Urgency.STRONG,
        "words": view.words,
    }


def cue(view: CueView) -> Json:
    """The last cue."""
    return {"cue": named(view.cue), "words": view.words or view.cue.value, "count": view.count}


def banner(view: Banner) -> Json:
    """Something wrong that lasts."""
    return {"kind": named(view.kind), "words": view.words}
