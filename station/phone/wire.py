"""Snapshot → plain values for a page: masses in milligrams and as text, enums by name and in words.

Everything a page shows is worked out here, so that the page with a script, the page without one and a
program that reads the API tell the same.
"""

from __future__ import annotations

from station.core.cues import Urgency
from station.core.mass import Mass
from station.core.snapshot import (
    AlarmView,
    Banner,
    BannerKind,
    CueView,
    CuringView,
    PartView,
    QueuedView,
    ScaleState,
    ScaleView,
    Snapshot,
    WaitingView,
)
from station.phone import words
from station.phone.wire_bench import bench
from station.phone.wire_clocks import dials
from station.phone.wire_practice import practice
from station.phone.wire_ready import ready_words
from station.phone.wire_values import Json, mass, named
from station.texts import t


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
        "next": None if not seen.queue else queued(seen.queue[0], step),
        "none_waits": not seen.queue,
        "waiting": len(seen.queue),
        "part": None if seen.part is None else part(seen.part, step),
        "unjudged": [waiting(one) for one in seen.unjudged],
        "unjudged_count": len(seen.unjudged) or "",
        "practice": practice(seen),
        "may_practise": seen.bench is None and seen.practice is None,
    }


def queued(view: QueuedView, step: Mass) -> Json:
    """A plan that waits for the bench."""
    return {
        "ticket": view.ticket,
        "material": view.material,
        "mold": view.mold,
        "total": mass(view.total, step),
        "button": t("Begin {mold}", mold=view.mold),
    }


def part(view: PartView, step: Mass) -> Json:
    """The part that a free bench asks for."""
    return {
        "number": view.number,
        "mold": view.mold,
        "mass": None if view.mass is None else mass(view.mass, step),
        "shown": "" if view.mass is None else words.mass_text(view.mass, step),
        "words": view.words,
        "takes": view.takes,
        "page": f"/judge/{view.number}",
    }


def waiting(view: WaitingView) -> Json:
    """A part of which something is still to be said."""
    return {
        "number": view.number,
        "material": view.material,
        "mold": view.mold,
        "words": view.words,
        "page": f"/judge/{view.number}",
    }


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
        "pan_words": view.words or t("on the pan, {view}", view=_rest(view)),
        "frames": view.frames,
    }


def _rest(view: ScaleView) -> str:
    match view.state:
        case ScaleState.LIVE:
            return t("at rest") if view.at_rest else t("moving")
        case ScaleState.STALE:
            return words.age_text(view.age_s)
        case ScaleState.BLANK:
            return t("silent")
        case ScaleState.TROUBLE:
            return t("trouble")
        case ScaleState.LOST:
            return t("no scale")


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
        "calendar": f"/log/{view.number}/demold.ics",
        "note_page": f"/log/{view.number}#note",
        "bell": next((alarm(one) for one in seen.alarms if one.number == view.number), None),
        **ready_words(view.ready, seen.at),
    }


def alarm(view: AlarmView) -> Json:
    """An alarm that sounds now."""
    return {
        "number": view.number,
        "clock": named(view.clock),
        "since_s": view.since_s,
        "since": "" if view.since_s is None else t("for {since_s}", since_s=words.past_text(view.since_s)),
        "urgency": named(view.urgency),
        "strong": view.urgency is Urgency.STRONG,
        "words": view.words,
    }


def cue(view: CueView) -> Json:
    """The last cue."""
    return {"cue": named(view.cue), "words": view.words or view.cue.value, "count": view.count}


_PAGES = {BannerKind.TIME: "/time", BannerKind.RECORD: "/record", BannerKind.PUSH: "/push"}
"""Where what a banner asks for is done."""


def banner(view: Banner) -> Json:
    """Something wrong that lasts; `page` is where something can be done about it."""
    page = _PAGES.get(view.kind, "") if view.ask else ""
    return {"kind": named(view.kind), "words": view.words, "page": page, "ask": view.ask}
