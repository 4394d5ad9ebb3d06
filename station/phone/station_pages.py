"""The page Station: how each part fares, its addresses, a file for helpers, and the way to every other page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from flask import Blueprint, Response, abort, current_app, redirect, render_template, request, url_for
from markupsafe import Markup
from werkzeug.wrappers import Response as Answer

from station.drawing.svg import svg
from station.errors import StationError
from station.phone.station_view import BAD, Paper, Part, StationDesk, in_all, worst_first
from station.texts import N_, t

PARTS = (
    "station",
    "scale",
    "time",
    "record",
    "climate",
    "materials",
    "molds",
    "stock",
    "devices",
    "push",
    "pair",
    "export",
)
"""First words of the addresses that are reached from here."""
BUNDLE = "tarebell-support.zip"
_CODES = 2
"""So many addresses are shown with their code at once; of the others the code is folded away."""


def station_pages(desk: StationDesk | None) -> Blueprint:
    """The routes under /station. Without a desk the page only leads on."""
    bp = Blueprint("station_page", __name__, url_prefix="/station")

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"station_parts": PARTS}

    def page(said: str = "", good: bool = True) -> str:
        parts: list[Part] = [] if desk is None else worst_first(desk.parts())
        return render_template(
            "station.html",
            places=_places(),
            looked=desk is not None,
            parts=parts,
            in_all=in_all(parts),
            bad=any(part.fare in BAD for part in parts),
            addresses=[] if desk is None else desk.addresses(),
            codes=_CODES,
            said=said,
            good=good,
        )

    @bp.get("")
    def station() -> str:
        return page(t("It was sounded at the bench. Did you hear it?") if "sounded" in request.args else "")

    if desk is None:
        return bp

    papers: Mapping[str, tuple[str, Callable[[], Paper]]] = {
        "card": (N_("What the bench says"), desk.card),
        "wiring": (N_("Wiring"), desk.wiring),
    }

    def shown(name: str) -> str:
        title, made = papers[name]
        paper = made()
        picture = "" if paper.drawing is None else Markup(svg(paper.drawing))
        return render_template("paper.html", title=t(title), paper=paper, picture=picture, name=name)

    @bp.get("/card")
    def card() -> str:
        return shown("card")

    @bp.get("/wiring")
    def wiring() -> str:
        return shown("wiring")

    def file(name: str) -> Response:
        drawing = papers[name][1]().drawing
        if drawing is None:
            abort(404)
        return Response(svg(drawing, standalone=True), mimetype="image/svg+xml")

    @bp.get("/card.svg")
    def card_file() -> Response:
        return file("card")

    @bp.get("/wiring.svg")
    def wiring_file() -> Response:
        return file("wiring")

    @bp.post("/sound")
    def sound() -> Answer | tuple[str, int]:
        try:
            desk.sound()
        except StationError as refusal:
            return page(refusal.sentence(), False), 409
        return redirect(url_for("station_page.station", sounded=1), 303)

    @bp.post("/support")
    def support() -> Response:
        # A form, not a link: only a paired device gets it.
        headers = {"Content-Disposition": f"attachment; filename={BUNDLE}"}
        return Response(desk.bundle(), mimetype="application/zip", headers=headers)

    return bp


def _places() -> frozenset[str]:
    """The addresses that this station has a page for: some parts are not in every station."""
    return frozenset(rule.rule for rule in current_app.url_map.iter_rules() if "GET" in (rule.methods or ()))
