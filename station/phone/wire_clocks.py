"""Clocks as dials: how full, how much time is left, and what kind of limit that is."""

from __future__ import annotations

import math
from collections.abc import Iterable

from station.core.clocks import MAXIMA, AlarmState
from station.core.moment import Moment
from station.core.snapshot import DialView
from station.phone import draw
from station.phone.wire_values import named
from station.phone.words import clock_text, past_text, span_text
from station.texts import N_, t

_BY, _AT = N_("by {time}"), N_("at {time}")
_CLOSE = 0.8
"""From this part of a limit on, its dial says that the end is close."""


def dials(views: Iterable[DialView], now: Moment) -> list[dict[str, object]]:
    """The clocks of one cast, in the order given."""
    return [dial(view, now) for view in views]


def dial(view: DialView, now: Moment) -> dict[str, object]:
    """One clock. `tone` tells a limit that comes close from a wait that is over."""
    limit = view.kind in MAXIMA
    past, still = view.left_s <= 0, math.isinf(view.left_s)
    return {
        "kind": named(view.kind),
        "limit": t("at most") if limit else t("at least"),
        "left_s": None if still else view.left_s,
        "left": "—" if still else past_text(-view.left_s) if past else span_text(view.left_s),
        "left_words": _left_words(view, limit, past),
        "length": span_text(view.length_s),
        "due": "" if view.due is None else t(_BY if limit else _AT, time=clock_text(view.due, now.wall)),
        "running": view.running,
        "alarm": named(view.alarm),
        "tone": _tone(view, limit, past),
        "sign": _sign(view, past),
        "unknown_gap": view.unknown_gap,
        "gap_words": t("power was off meanwhile: not certain") if view.unknown_gap else "",
        "draw": {"arc": draw.arc(view.fraction)},
    }


def _left_words(view: DialView, limit: bool, past: bool) -> str:
    if math.isinf(view.left_s):
        return t("too cold: it stands still")
    if past:
        return t("over") if limit else t("since due")
    return t("left") if view.running else t("left, stands still")


def _tone(view: DialView, limit: bool, past: bool) -> str:
    if view.alarm is AlarmState.SOUNDING:
        return "sounding"
    if past:
        return "over" if limit else "done"
    return "close" if limit and view.fraction >= _CLOSE else "calm"


def _sign(view: DialView, past: bool) -> str:
    match view.alarm:
        case AlarmState.SOUNDING:
            return t("sounding")
        case AlarmState.ACKNOWLEDGED:
            return t("acknowledged")
        case AlarmState.STOPPED:
            return t("stopped")
        case AlarmState.WAITING:
            return t("reached") if past else ""
