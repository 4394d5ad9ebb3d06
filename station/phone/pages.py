"""The pages as they are first served: complete without any script, and kept live by it."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, session, url_for
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.core.messages import BeginCast
from station.errors import StationError
from station.phone import guard
from station.phone.pairing import Doorkeeper
from station.phone.shelf import Ask, Shelf
from station.phone.wire import state
from station.phone.words import day_text

LOG_PAGE = 30
Form = dict[str, str]


def pages(board: Board, shelf: Shelf, door: Doorkeeper, station: str, ask: Ask) -> Blueprint:
    """Bench, curing, log, record, new cast and pairing."""
    bp = Blueprint("pages", __name__)

    def page(template: str, **values: Any) -> str:
        latest = board.latest()
        return render_template(
            template,
            s=None if latest is None else state(latest),
            station=station,
            paired=guard.paired(),
            token=guard.token(),
            here=request.path,
            **values,
        )

    @bp.get("/")
    def bench() -> str:
        return page("bench.html")

    @bp.get("/curing")
    def curing() -> str:
        return page("curing.html")

    @bp.get("/log")
    def log() -> str:
        first = max(0, request.args.get("from", 0, type=int) or 0)
        lines = list(shelf.casts(LOG_PAGE + 1, first))
        more = len(lines) > LOG_PAGE
        rows = [(line, day_text(line.begun)) for line in lines[:LOG_PAGE]]
        return page("log.html", rows=rows, first=first, step=LOG_PAGE, more=more)

    @bp.get("/log/<int:number>")
    def record(number: int) -> str:
        text = shelf.record_text(number)
        if text is None:
            abort(404)
        return page("record.html", number=number, text=text)

    @bp.route("/new", methods=["GET", "POST"])
    def new() -> str | Answer | tuple[str, int]:
        form: Form = {name: value[:120] for name, value in request.form.items()}
        said, plan = "", None
        if request.method == "POST":
            try:
                plan = _planned(shelf, form)
                if "begin" in form:
                    ask(plan)
                    return redirect(url_for("pages.bench"))
            except StationError as refusal:
                said, plan = refusal.sentence(), None
        body = page(
            "new.html",
            materials=shelf.materials(),
            molds=shelf.molds(),
            form=form,
            said=said,
            plan=None if plan is None else plan.plan,
        )
        return (body, 409) if said else body

    @bp.get("/pair")
    def pair() -> str:
        return page("pair.html", said="", asked=False)

    @bp.post("/pair/ask")
    def pair_ask() -> str | tuple[str, int]:
        try:
            door.ask()
        except StationError as refusal:
            return page("pair.html", said=refusal.sentence(), asked=False), 409
        return page("pair.html", said="", asked=True)

    @bp.post("/pair")
    def pair_open() -> Answer | tuple[str, int]:
        name = " ".join(request.form.get("device", "").split())[:40] or "a phone"
        try:
            door.open(request.form.get("code", "")[:20])
        except StationError as refusal:
            return page("pair.html", said=refusal.sentence(), asked=True), 409
        session["device"] = name
        session.permanent = True
        return redirect(url_for("pages.bench"))

    @bp.get("/favicon.ico")
    def icon() -> Answer:
        return redirect(url_for("static", filename="icon.svg"))

    return bp


def _planned(shelf: Shelf, form: Form) -> BeginCast:
    lots = {name.removeprefix("lot "): number for name, number in form.items() if name.startswith("lot ") and number}
    return shelf.plan(form.get("material", ""), form.get("mold", ""), form.get("amount", ""), lots, guard.device())
