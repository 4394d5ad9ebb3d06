"""The page of the time: what the station believes and why, setting it, and how long the power was off."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

from flask import Blueprint, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.messages import TellGap, TellTime
from station.core.moment import Moment
from station.core.spans import about
from station.core.time_view import TimeState, TimeView, shift_words
from station.errors import StationError
from station.phone import orders
from station.phone.guard import device
from station.phone.shelf import Ask
from station.phone.words import weekday
from station.quantities import seconds
from station.texts import t

TEXT_LIMIT = 60


def time_pages(board: Board, ask: Ask) -> Blueprint:
    """The routes under /time."""
    bp = Blueprint("time", __name__, url_prefix="/time")

    def page(said: str = "", typed: Mapping[str, str] | None = None) -> str:
        latest = board.latest()
        seen = {} if latest is None or latest.time is None else shown(latest.time, latest.at)
        return render_template("time.html", **seen, said=said, typed=typed or {})

    @bp.get("")
    def time() -> str:
        return page()

    def taken(fields: tuple[str, ...], understand: Any) -> Answer | tuple[str, int]:
        typed = {name: request.form.get(name, "")[:TEXT_LIMIT] for name in fields}
        try:
            ask(understand(typed, device()))
        except StationError as refusal:
            return page(refusal.sentence(), typed), 409
        return redirect("/time", 303)

    @bp.post("/set")
    def set_time() -> Answer | tuple[str, int]:
        return taken(("now", "zone"), told_time)

    @bp.post("/gap")
    def gap() -> Answer | tuple[str, int]:
        return taken(("boot", "answer", "off"), told_gap)

    return bp


def shown(view: TimeView, now: Moment) -> dict[str, Any]:
    """Time in the words of the page; times of day are those at the bench."""
    here = now.wall.astimezone()
    known = view.state is not TimeState.UNKNOWN
    ago = "" if view.since_s is None else about(math.floor(view.since_s))
    return {
        "believed": f"{weekday(here)} {here:%Y-%m-%d %H:%M}" if known else "",
        "zone": f"UTC{_signed(here)}",
        "offset": _signed(here),
        "guess": f"{here:%Y-%m-%d %H:%M}",
        "why": _why(view, ago),
        "may_set": view.state is not TimeState.HEARD,
        "shifted": shift_words(view),
        "gaps": [
            {
                "boot": gap.boot_id,
                "words": gap.words,
                "safe_side": gap.safe_side,
                "told": "" if gap.told_s is None else about(gap.told_s),
                "open": gap.open,
            }
            for gap in view.gaps
        ],
    }


def _why(view: TimeView, ago: str) -> str:
    match view.state:
        case TimeState.HEARD:
            return t("A time service was heard, or a battery clock agrees; so for {ago} at least.", ago=ago)
        case TimeState.SET:
            return t(
                "Set by hand {ago} ago by {by}. Once a time service is heard, that counts instead.", ago=ago, by=view.by
            )
        case TimeState.UNKNOWN:
            return t("No time service has been heard since the power came on, and no battery clock agrees.")


def _signed(here: datetime) -> str:
    text = f"{here:%z}"
    return f"{text[:3]}:{text[3:5]}"


def told_time(said: Mapping[str, object], by: str) -> TellTime:
    """`now`, a date and time such as 2026-03-02T09:14, and `zone`, its UTC offset. Raises NotUnderstood."""
    text = orders.text(said, "now", t("what time it is now"), TEXT_LIMIT)
    zone = _zone(orders.text(said, "zone", t("which UTC offset your time has"), TEXT_LIMIT))
    try:
        wall = datetime.fromisoformat(text)
        if wall.tzinfo is not None:
            raise ValueError
        return TellTime(wall.replace(tzinfo=zone).astimezone(UTC), by)
    except (ValueError, OverflowError):
        raise orders.NotUnderstood(
            t("{what} is no date and time of day.", what=repr(text)), t('Write them such as "2026-03-02 09:14".')
        ) from None


def _zone(text: str) -> timezone:
    """A UTC offset such as "+01:00", "-3:30", "UTC"."""
    found = re.fullmatch(r"(?:UTC|GMT)?\s*(?:([+-])(\d{1,2})(?::?([0-5]\d))?)?", text.replace("\N{MINUS SIGN}", "-"))
    hours, minutes = (int(found[2] or 0), int(found[3] or 0)) if found else (99, 0)
    if found is None or hours > 14:
        raise orders.NotUnderstood(
            t("{what} is no offset from UTC.", what=repr(text)),
            t('Write it such as "+01:00" for one hour ahead of UTC.'),
        )
    span = timedelta(hours=hours, minutes=minutes)
    return timezone(-span if found[1] == "-" else span)


def told_gap(said: Mapping[str, object], by: str) -> TellGap:
    """`boot`, and `answer`: unknown, or known with a time `off` such as "40 min". Raises NotUnderstood."""
    boot, answer = orders.text(said, "boot", t("which power cut"), TEXT_LIMIT), said.get("answer")
    off = str(said.get("off") or "").strip()
    if answer == "unknown":
        if off:
            raise orders.NotUnderstood(
                t("You typed {off}, but chose that you do not know.", off=repr(off)), t("Choose one of the two.")
            )
        return TellGap(boot, None, by)
    if answer != "known":
        raise orders.NotUnderstood(t("Choose whether you know how long the station was off."))
    if not off:
        raise orders.NotUnderstood(t("How long was the station off?"), t('Write a time such as "40 min".'))
    return TellGap(boot, seconds(off), by)
