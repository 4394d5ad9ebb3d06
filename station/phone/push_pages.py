"""The page of the messages: where they go and how that fares, on what occasions, and when they are held."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from flask import Blueprint, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.core.matters import Occasion
from station.core.quiet import QuietHours
from station.errors import Refused, StationError
from station.phone import orders
from station.phone.guard import device
from station.phone.push_view import AddressLine, PushDesk
from station.phone.words import day_text
from station.texts import t

ADDRESS_LIMIT = 501
"""One more than an address may have, so that one that is too long is refused and not cut."""
SOME_HOURS = QuietHours(22 * 60, 6 * 60)
"""What the form offers while there are no quiet hours."""


def push_pages(desk: PushDesk) -> Blueprint:
    """The routes under /push."""
    bp = Blueprint("push", __name__, url_prefix="/push")

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"has_push_page": True}

    def page(field: str = "", said: str = "", *, good: bool = False, typed: Mapping[str, str] | None = None) -> str:
        view, typed = desk.view(), typed or {}
        hours = view.quiet or SOME_HOURS
        return render_template(
            "push.html",
            view=view,
            lines=[_line(one) for one in view.addresses],
            occasions=[(one.name, one.value, one in view.occasions) for one in Occasion],
            kept=(_time_text(hours.begin), _time_text(hours.end)),
            begin=typed.get("begin", _time_text(hours.begin)),
            end=typed.get("end", _time_text(hours.end)),
            typed=typed.get("address", ""),
            field=field,
            said=said,
            good=good,
        )

    def done(field: str, act: Callable[[], None], **typed: str) -> Answer | tuple[str, int]:
        try:
            act()
        except orders.NotUnderstood as wrong:
            return page(field, wrong.sentence(), typed=typed), 400
        except StationError as refusal:
            return page(field, refusal.sentence(), typed=typed), 409
        return redirect("/push", 303)

    @bp.get("")
    def push() -> str:
        return page()

    @bp.post("/add")
    def add() -> Answer | tuple[str, int]:
        url = request.form.get("address", "").strip()[:ADDRESS_LIMIT]
        return done("address", lambda: desk.add(url, device()), address=url)

    @bp.post("/remove")
    def remove() -> Answer | tuple[str, int]:
        return done("list", lambda: desk.remove(_key(), device()))

    @bp.post("/test")
    def test() -> str | tuple[str, int]:
        try:
            told = desk.test(_key(), device())
        except StationError as refusal:
            return page("list", refusal.sentence()), 409
        return page("list", told.words, good=told.good)

    @bp.post("/occasions")
    def occasions() -> Answer | tuple[str, int]:
        asked = frozenset(one for one in Occasion if one.name in request.form.getlist("occasion"))
        return done("occasions", lambda: desk.choose(asked, device()))

    @bp.post("/quiet")
    def quiet() -> Answer | tuple[str, int]:
        begin, end = (request.form.get(name, "")[:10] for name in ("begin", "end"))
        off = "off" in request.form
        return done("quiet", lambda: desk.be_quiet(None if off else _hours(begin, end), device()), begin=begin, end=end)

    return bp


def _key() -> str:
    return request.form.get("key", "")[:64]


def _hours(begin: str, end: str) -> QuietHours:
    hours = _minute(begin, "begin"), _minute(end, "end")
    if hours[0] == hours[1]:
        raise Refused(
            t("Quiet hours cannot begin and end at the same time."), t("Choose another time for one of the two.")
        )
    return QuietHours(*hours)


def _minute(text: str, what: str) -> int:
    """Minutes after midnight. Raises NotUnderstood."""
    found = re.fullmatch(r"(\d{1,2}):(\d{2})(?::\d{2})?", text.strip())
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise orders.NotUnderstood(
            t("When do they {what}? {what2} is no time of day.", what=what, what2=repr(text)),
            t('Write one such as "22:00".'),
        )
    return int(found[1]) * 60 + int(found[2])


def _time_text(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"


def _line(one: AddressLine) -> dict[str, Any]:
    return {
        "key": one.key,
        "label": one.label,
        "fixed": one.fixed,
        "waiting": one.waiting,
        "given_up": one.given_up,
        "good": _when(one.good, one.good_sure),
        "bad": _when(one.bad, one.bad_sure),
        "why": one.why,
    }


def _when(when: datetime | None, sure: bool) -> str:
    if when is None:
        return ""
    return day_text(when) if sure else t("{when}, by a clock that was not set", when=day_text(when))
