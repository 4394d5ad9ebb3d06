"""The door as pages: pairing a device with the code from the bench, and the list of those that may touch."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, redirect, render_template, request, session
from werkzeug.wrappers import Response as Answer

from station.config import Look
from station.errors import Fault, StationError
from station.phone import guard
from station.phone.devices import NAME_LIMIT, Stamp
from station.phone.doorkeeper import Doorkeeper
from station.phone.stream import Ear
from station.phone.words import day_text
from station.texts import t

Said = str | Answer | tuple[str, int]


def door_pages(door: Doorkeeper) -> Blueprint:
    """The routes under /pair and /devices."""
    bp = Blueprint("door", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        # A screen that is paired may let another device in; nobody else is ever told the code.
        return {"door_code": in_two(door.waiting()) if guard.paired() else ""}

    @bp.get("/pair")
    def pair() -> str:
        return render_template("pair.html", said="", asked=False, name="")

    @bp.post("/pair/ask")
    def ask() -> Said:
        try:
            door.ask()
        except StationError as refusal:
            return render_template("pair.html", said=refusal.sentence(), asked=False, name=""), 409
        if guard.paired():
            return redirect("/devices", 303)
        return render_template("pair.html", said="", asked=True, name="")

    @bp.post("/pair")
    def open_with() -> Said:
        name = request.form.get("device", "")[:NAME_LIMIT]
        try:
            key = door.open(request.form.get("code", "")[:20], name)
        except StationError as refusal:
            return render_template("pair.html", said=refusal.sentence(), asked=True, name=name), 409
        guard.admit(key)
        return redirect("/", 303)

    @bp.post("/pair/leave")
    def leave() -> Answer:
        own = guard.mine()
        session.pop("pairing", None)
        if own is not None:
            door.lock_out(own.id)
        return redirect("/pair", 303)

    def listed(said: str = "", at: str = "", typed: str = "") -> str:
        own = guard.mine()
        rows = [
            {
                "id": one.id,
                "name": one.name,
                "mine": own is not None and one.id == own.id,
                "paired": when(one.paired),
                "seen": when(one.seen),
                "typed": typed if one.id == at else one.name,
                "said": said if one.id == at else "",
            }
            for one in door.paired()
        ]
        beside = said if not any(row["said"] for row in rows) else ""
        return render_template("devices.html", rows=rows, said=beside, limit=NAME_LIMIT)

    def after(said: StationError, at: str = "", typed: str = "") -> tuple[str, int]:
        return listed(said.sentence(), at, typed), 503 if isinstance(said, Fault) else 409

    @bp.get("/devices")
    def devices() -> str:
        # Names of phones and when they were here are nobody's business but of those who may touch.
        guard.needs_pairing()
        return listed()

    @bp.post("/devices/rename")
    def rename() -> Said:
        which, name = request.form.get("id", ""), request.form.get("name", "")
        try:
            door.rename(which, name)
        except StationError as why:
            return after(why, which, name[:NAME_LIMIT])
        return redirect("/devices", 303)

    @bp.post("/devices/lock-out")
    def lock_out() -> Said:
        try:
            door.lock_out(request.form.get("id", ""))
        except StationError as why:
            return after(why)
        return redirect("/devices", 303)

    @bp.post("/devices/lock-out-others")
    def lock_out_others() -> Said:
        own = guard.mine()
        try:
            door.lock_out_others("" if own is None else own.id)
        except StationError as why:
            return after(why)
        return redirect("/devices", 303)

    return bp


def ear_of(door: Doorkeeper, look: Look) -> Ear:
    """Who listens in this request. A pairing that ends ends what it was told, while the stream is open."""
    key = session.get("pairing")
    return Ear(
        welcome=lambda: look is Look.FREE or door.knows(key),
        code=lambda: in_two(door.waiting()) if door.knows(key) else "",
    )


def in_two(code: str) -> str:
    """A code as it is read out: `123 456`; empty for none."""
    return f"{code[:3]} {code[3:]}" if code else ""


def when(at: Stamp) -> str:
    """The day and time of a stamp, or that nobody knew it."""
    return day_text(at.wall) if at.trusted else t("at a time that the station did not know")
