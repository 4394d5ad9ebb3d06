"""The worksheets as pages: a form, the answer with its rules and drawings, a drawing to print, the same as JSON.

A worksheet changes nothing, so its form is sent as an address: it can be kept, shared and gone back to.
"""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flask import Blueprint, Response, abort, jsonify, render_template, request
from markupsafe import Markup

from station.board import Board
from station.core.material import Material
from station.drawing.svg import svg
from station.errors import Refused
from station.phone.from_pan import on_the_pan
from station.phone.shelf import Shelf
from station.worksheets.catalogue import chapters, worksheet
from station.worksheets.filling import NotFilledIn, Slip, as_typed, prefilled, worked
from station.worksheets.form import Field, Worked, Worksheet
from station.worksheets.guides import GUIDES, guide
from station.worksheets.kinds import BARE, Kind

TEXT_LIMIT = 4000
OWN = {"go", "pan", "material"}
"""What the form sends besides the fields."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A worksheet as it was sent: typed texts, the answer or the slips, and what was said about the pan."""

    typed: Mapping[str, str]
    answer: Worked | None
    slips: tuple[Slip, ...]
    material: str
    said: str = ""


def work_pages(shelf: Shelf, board: Board) -> Blueprint:
    """The routes under /work."""
    bp = Blueprint("work", __name__, url_prefix="/work")
    # Anybody may ask, and some answers take work: one at a time, so that the bench keeps a processor.
    one_at_a_time = threading.Lock()

    def asked_of(sheet: Worksheet) -> Asked:
        with one_at_a_time:
            return _asked(sheet, shelf, board)

    @bp.get("")
    def everything() -> str:
        return render_template("work.html", chapters=chapters(), guides=GUIDES)

    @bp.get("/guides/<key>")
    def worked_plan(key: str) -> str:
        try:
            return render_template("guide.html", guide=guide(key))
        except Refused:
            abort(404)

    @bp.get("/<key>")
    def one(key: str) -> str | tuple[str, int]:
        sheet = _known(key)
        asked = asked_of(sheet)
        body = render_template(
            "worksheet.html",
            sheet=sheet,
            fields=[(field, _unit(field), prefilled(field)) for field in sheet.fields],
            typed=asked.typed,
            answer=asked.answer,
            slips={slip.key: slip.said for slip in asked.slips},
            said=asked.said,
            materials=_offered(sheet, shelf.materials()),
            material=asked.material,
            pictures=[Markup(svg(d)) for d in asked.answer.drawings] if asked.answer else [],
            query=request.query_string.decode("ascii", "replace"),
        )
        return (body, 409) if asked.slips else body

    @bp.get("/<key>.json")
    def figures(key: str) -> Response | tuple[Response, int]:
        asked = asked_of(_known(key))
        if asked.answer is None:
            return jsonify({"refused": [{"field": slip.key, "said": slip.said} for slip in asked.slips]}), 409
        return jsonify(dict(asked.answer.figures))

    @bp.get("/<key>/<int:number>.svg")
    def drawing(key: str, number: int) -> Response:
        asked = asked_of(_known(key))
        if asked.answer is None or not 1 <= number <= len(asked.answer.drawings):
            abort(404)
        file = Response(svg(asked.answer.drawings[number - 1], standalone=True), mimetype="image/svg+xml")
        # The file carries its own looks and nothing else.
        file.headers["Content-Security-Policy"] = "default-src 'none'; style-src 'unsafe-inline'"
        return file

    return bp


def _known(key: str) -> Worksheet:
    try:
        return worksheet(key)
    except Refused:
        abort(404)


def _asked(sheet: Worksheet, shelf: Shelf, board: Board) -> Asked:
    sent = {name: value[:TEXT_LIMIT] for name, value in request.args.items()}
    fields = {field.key: field for field in sheet.fields}
    typed = {key: sent[key] for key in fields if key in sent}
    if "go" in sent:
        # A box that is not ticked is not sent at all.
        typed |= {key: "no" for key, field in fields.items() if field.kind is Kind.YES and key not in sent}
    material = sent.get("material", "")
    said = ""
    chosen = next((m for m in shelf.materials() if m.key == material), None)
    if chosen is not None and sheet.from_material is not None and sent.get("go") == "sheet":
        known = sheet.from_material(chosen).items()
        typed |= {key: as_typed(fields[key], text) for key, text in known if key in fields}
    if sent.get("pan") in fields:
        try:
            typed |= {sent["pan"]: on_the_pan(board)}
        except Refused as refusal:
            said = refusal.sentence()
    if "go" not in sent or sent.get("go") == "sheet" or "pan" in sent:
        return Asked(typed, None, (), material, said)
    try:
        return Asked(typed, worked(sheet, typed), (), material)
    except NotFilledIn as wrong:
        return Asked(typed, None, wrong.slips, material)


def _unit(field: Field) -> str:
    return field.bare or BARE.get(field.kind, "")


def _offered(sheet: Worksheet, materials: Sequence[Material]) -> list[dict[str, Any]]:
    return [] if sheet.from_material is None else [{"key": m.key, "title": m.title} for m in materials]
