"""The page of the scale: which one is in use, finding and checking one, and what its checks have said so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import Enum, auto
from typing import Any, TypeVar

from flask import Blueprint, Response, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.board import Board
from station.errors import Refused, StationError
from station.phone import orders
from station.phone.scale_desk import Asks, ErrandView, ScaleDesk
from station.phone.scale_history import history
from station.phone.scale_trend import HEIGHT, WIDTH
from station.texts import t

OTHER = "other"
"""The choice of a port that is typed, not listed."""
TEXT_LIMIT = 200

_Seen = TypeVar("_Seen")


class Place(Enum):
    """Where on the page a form stands, and what is said about it."""

    FIND = auto()
    CHECK = auto()
    ERRAND = auto()


@dataclass(frozen=True, slots=True)
class Slip:
    """A form that was refused: where it stands, why, and what had been filled in."""

    place: Place
    said: str
    port: str = ""
    address: str = ""
    text: str = ""


def scale_pages(desk: ScaleDesk, board: Board) -> Blueprint:
    """The routes under /scale."""
    bp = Blueprint("scale", __name__, url_prefix="/scale")

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"has_scale_page": True}

    def page(slip: Slip | None = None) -> str:
        in_use, no_use = _or_said(desk.in_use)
        ports, no_ports = _or_said(desk.ports)
        checks, no_checks = _or_said(desk.checks)
        errand, no_errand = _or_said(desk.errand)
        return render_template(
            "scale.html",
            in_use=in_use or no_use,
            ports=ports or (),
            no_ports=no_ports,
            errand=errand,
            no_errand=no_errand,
            history=history(checks or (), _today(board)),
            no_checks=no_checks,
            slip=slip,
            # A refused form must not be swept away, nor a question that somebody is about to answer.
            reloads=slip is None and _running(errand) and not _asking(errand),
            width=WIDTH,
            height=HEIGHT,
        )

    def done(place: Place, work: Callable[[], None], **typed: str) -> Answer | tuple[str, int]:
        try:
            work()
        except StationError as refusal:
            return page(Slip(place, refusal.sentence(), **typed)), 409
        return redirect("/scale#errand", 303)

    @bp.get("")
    def scale() -> str:
        return page()

    @bp.get("/errand.json")
    def errand_now() -> Response:
        errand, no_errand = _or_said(desk.errand)
        html = render_template("scale_errand.html", errand=errand, no_errand=no_errand, slip=None)
        return jsonify({"running": _running(errand), "html": html})

    @bp.post("/find")
    def find() -> Answer | tuple[str, int]:
        port, address = request.form.get("port", ""), request.form.get("address", "")
        return done(Place.FIND, lambda: desk.find(_chosen(port, address)), port=port, address=address)

    @bp.post("/check")
    def check() -> Answer | tuple[str, int]:
        return done(Place.CHECK, desk.check)

    @bp.post("/answer")
    def answer() -> Answer | tuple[str, int]:
        text, asked = request.form.get("text", ""), request.form.get("asked")
        return done(Place.ERRAND, lambda: desk.answer(_fitting(desk.errand(), asked, text)), text=text)

    @bp.post("/leave")
    def leave() -> Answer | tuple[str, int]:
        return done(Place.ERRAND, desk.leave)

    return bp


def _or_said(see: Callable[[], _Seen]) -> tuple[_Seen | None, str]:
    """What `see` gives, or None and the sentence that says why."""
    try:
        return see(), ""
    except StationError as error:
        return None, error.sentence()


def _running(errand: ErrandView | None) -> bool:
    return errand is not None and errand.good is None


def _asking(errand: ErrandView | None) -> bool:
    return errand is not None and errand.asks is not Asks.NOTHING


def _today(board: Board) -> date | None:
    """The station's date; None while its clock is not to be trusted."""
    latest = board.latest()
    return latest.at.wall.date() if latest is not None and latest.at.trusted else None


def _chosen(port: str, address: str) -> str:
    """The port to search. Raises NotUnderstood when none is chosen, or two are."""
    if port and port != OTHER and address.strip():
        raise orders.NotUnderstood(
            t("A port is chosen and an address is typed too."), t("Choose the other address, or empty its field.")
        )
    if not address.strip() and port.strip() in ("", OTHER):
        what = t("No address is typed.") if port == OTHER else t("No port is chosen.")
        raise orders.NotUnderstood(what, t("Choose a port from the list, or type an address."))
    if port in ("", OTHER):
        return orders.text({"address": address}, "address", t("at which address"), TEXT_LIMIT)
    return orders.text({"port": port}, "port", t("which port"), TEXT_LIMIT)


def _fitting(errand: ErrandView | None, asked: str | None, text: str) -> str:
    """The answer, if it answers the open question. Raises Refused; whether a question is open the desk says itself."""
    clean = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if len(clean) > TEXT_LIMIT:
        raise orders.NotUnderstood(
            t(
                "The answer has {count} characters; at most {text_limit} are taken.",
                count=len(clean),
                text_limit=TEXT_LIMIT,
            ),
            t("Please shorten it."),
        )
    if errand is None or not _asking(errand):
        return clean
    if asked is not None and asked.split() != errand.question.split():
        raise Refused(
            t("The question has changed meanwhile; {clean} was not taken as its answer.", clean=repr(clean)),
            t("Read it and answer again."),
        )
    if errand.asks is Asks.YES_NO:
        clean = clean.lower()
        if clean not in ("yes", "no"):
            raise orders.NotUnderstood(t("This question wants yes or no."), t("Press one of its buttons."))
    return clean
