"""When a cast may leave its mold, in words: how far it is, when surely, and from when on perhaps."""

from __future__ import annotations

import math
from datetime import datetime

from station.core.moment import Moment
from station.core.snapshot import ReadyView
from station.core.spans import about, span
from station.phone.wire_values import Json
from station.phone.words import clock_text, span_text


def ready_words(view: ReadyView | None, now: Moment) -> Json:
    """`aged`: how much has counted; `not_before`: when the bell rings; `range`: what the uncertainty is."""
    if view is None:
        return {"aged": "", "not_before": "", "range": ""}
    return {"aged": _aged(view), "not_before": _not_before(view, now), "range": _range(view, now)}


def _aged(view: ReadyView) -> str:
    return f"{about(view.age_s)} of {span(view.length_s)} at {view.reference_c:g} °C have counted."


def _not_before(view: ReadyView, now: Moment) -> str:
    if view.surely_s <= 0:
        return "It may come out of the mold now."
    if math.isinf(view.surely_s):
        return "Nobody can say when: it is too cold to cure."
    return f"Not before {_when(view.surely, view.surely_s, now)}."


def _range(view: ReadyView, now: Moment) -> str:
    stays = "" if view.celsius is None else f" if it stays at {view.celsius:.1f} °C"
    if view.surely_s <= 0 or math.isinf(view.surely_s):
        return ""
    if view.celsius is None:
        return "No temperature is measured here: time counts as it is."
    if view.soonest_s is None:
        return f"That holds{stays}."
    if view.soonest_s <= 0:
        return f"At the fastest it would be ready already. The bell waits for the slowest{stays}."
    soonest = _when(view.soonest, view.soonest_s, now)
    return f"At the fastest it would be ready {soonest}. The bell waits for the slowest{stays}."


def _when(wall: datetime | None, seconds: float, now: Moment) -> str:
    """A time of day and how long that is from now; the latter alone where the time of day cannot be said."""
    left = span_text(seconds)
    return f"in {left}" if wall is None else f"{clock_text(wall, now.wall)}, in {left}"
