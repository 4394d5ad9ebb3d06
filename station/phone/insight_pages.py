"""The page of insight, and the same for programs: what the newest casts say about each other."""

from __future__ import annotations

from collections.abc import Sequence

from flask import Blueprint, Response, jsonify, render_template, request
from markupsafe import Markup

from station.drawing.marks import Drawing
from station.drawing.svg import svg
from station.insight.charted import FIGURES as SHOWN
from station.insight.plain import plain
from station.insight.study import study
from station.phone.insight_typed import FIGURES, LASTS, FactBook, Typed, typed_of, wanted_of
from station.phone.insight_view import insight_view
from station.phone.orders import NotUnderstood
from station.records import Known
from station.texts import t


def insight_pages(book: FactBook) -> Blueprint:
    """The routes /insight and /api/insight."""
    bp = Blueprint("insight", __name__)

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_insight_page": True}

    @bp.get("/insight")
    def page() -> str | tuple[str, int]:
        newest = book.facts(last=1)
        typed = typed_of(request.args, newest[-1] if newest else None)
        wanted, slips = wanted_of(typed)
        facts = book.facts(
            mold=wanted.mold, material=wanted.material, last=wanted.last, since=wanted.since, until=wanted.until
        )
        molds, materials = book.molds(), book.materials()
        body = render_template(
            "insight.html",
            typed=typed,
            slips=slips,
            figures=FIGURES,
            lasts=LASTS,
            molds=molds,
            materials=materials,
            unit=SHOWN[wanted.charted].unit,
            any_cast=bool(newest),
            which=_which(typed, molds, materials),
            count=len(facts),
            view=insight_view(facts, study(facts, wanted.charted, wanted.limits)),
            drawn=_drawn,
        )
        return (body, 400) if slips else body

    @bp.get("/api/insight")
    def api() -> Response:
        typed = typed_of({"mold": "", "material": "", **request.args}, None)
        wanted, slips = wanted_of(typed)
        if slips:
            asked = ", ".join(sorted(slips))
            what = t("This cannot be read: {fields}.", fields=asked)
            raise NotUnderstood(what, t("The description of the API says what it may be."))
        facts = book.facts(
            mold=wanted.mold, material=wanted.material, last=wanted.last, since=wanted.since, until=wanted.until
        )
        return jsonify(plain(facts, study(facts, wanted.charted, wanted.limits)))

    return bp


def _which(typed: Typed, molds: Sequence[Known], materials: Sequence[Known]) -> str:
    """Which casts are shown, in a few words."""
    mold = next((one.title for one in molds if one.key == typed.mold), t("all molds"))
    material = next((one.title for one in materials if one.key == typed.material), t("all materials"))
    return t("Which casts: {mold}, {material}; what you allow", mold=mold, material=material)


def _drawn(drawing: Drawing) -> Markup:
    return Markup(svg(drawing))
