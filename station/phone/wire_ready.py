"""When a cast may leave its mold, in words: how far it is, when surely, and from when on perhaps."""

from __future__ import annotations

import math
from datetime import datetime

from station.core.moment import Moment
from station.core.snapshot import ReadyView
from station.core.spans import about, span
from station.phone.wire_values import Json
from station.phone.words import clock_text, span_text
from station.texts import number, t


def ready_words(view: ReadyView | None, now: Moment) -> Json:
    """`aged`: how much has counted; `not_before`: when the bell rings; `range`: what the uncertainty is."""
    if view is None:
        return {"aged": "", "not_before": "", "range": ""}
    return {"aged": _aged(view), "not_before": _not_before(view, now), "range": _range(view, now)}


def _aged(view: ReadyView) -> str:
    return t(
        "{age_s} of {length_s} at {reference_c} °C have counted.",
        age_s=about(view.age_s),
        length_s=span(view.length_s),
        reference_c=number(view.reference_c),
    )


def _not_before(view: ReadyView, now: Moment) -> str:
    if view.surely_s <= 0:
        return t("It may come out of the mold now.")
    if math.isinf(view.surely_s):
        return t("Nobody can say when: it is too cold to cure.")
    return t("Not before {surely}.", surely=_when(view.surely, view.surely_s, now))


def _range(view: ReadyView, now: Moment) -> str:
    if view.surely_s <= 0 or math.isinf(view.surely_s):
        return ""
    if view.celsius is None:
        return t("No temperature is measured here: time counts as it is.")
    celsius = number(view.celsius, ".1f")
    if view.soonest_s is None:
        return t("That holds if it stays at {celsius} °C.", celsius=celsius)
    if view.soonest_s <= 0:
        fastest = t("At the fastest it would be ready already.")
    else:
        soonest = _when(view.soonest, view.soonest_s, now)
        fastest = t("At the fastest it would be ready {soonest}.", soonest=soonest)
    slowest = t("The bell waits for the slowest if it stays at {celsius} °C.", celsius=celsius)
    return f"{fastest} {slowest}"


def _when(wall: datetime | None, seconds: float, now: Moment) -> str:
    """A time of day and how long that is from now; the latter alone where the time of day cannot be said."""
    left = span_text(seconds)
    return (
        t("in {left}", left=left)
        if wall is None
        else t("{wall}, in {left}", wall=clock_text(wall, now.wall), left=left)
    )
