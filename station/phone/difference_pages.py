"""The pages of differences: what went together with bad casts, and two casts side by side; the same for programs."""

from __future__ import annotations

import threading
from collections.abc import Sequence

from flask import Blueprint, Response, jsonify, render_template, request
from markupsafe import Markup

from station.core.judging_events import DefectKind
from station.drawing.marks import Drawing
from station.drawing.svg import svg
from station.errors import Refused, WrongField
from station.insight.asked import Question
from station.insight.compare import compared, rows
from station.insight.difference import Difference, differences
from station.insight.facts import CastFacts
from station.insight.plain_difference import plain_difference
from station.phone.difference_view import look_view
from station.phone.learning_view import LearningBook, cast_named, question, where


def difference_pages(book: LearningBook) -> Blueprint:
    """The routes /insight/differences, /insight/compare and /api/insight/differences."""
    bp = Blueprint("differences", __name__)
    # Dealing out bad casts by lot takes work, and anybody may ask: one at a time, and the last answers are kept.
    one_at_a_time = threading.Lock()
    known: dict[tuple[tuple[CastFacts, ...], Question], Difference] = {}

    def found_of(facts: Sequence[CastFacts], asked: Question) -> Difference:
        key = (tuple(facts), asked)
        with one_at_a_time:
            if key not in known:
                found = differences(facts, asked)
                while len(known) >= KEPT:
                    known.pop(next(iter(known)))
                known[key] = found
            return known[key]

    @bp.get("/insight/differences")
    def page() -> str | tuple[str, int]:
        newest = book.facts(last=1)
        asked_where = where(request.args, newest[-1] if newest else None)
        facts = book.facts(mold=asked_where.mold, material=asked_where.material)
        slip, refused, found, asked = "", "", None, Question()
        try:
            asked = question(request.args)
            found = found_of(facts, asked)
        except WrongField as why:
            slip = why.sentence()
        except Refused as why:
            refused = why.sentence()
        body = render_template(
            "differences.html",
            where=asked_where,
            molds=book.known_molds(),
            materials=book.known_materials(),
            defects=DefectKind,
            asked=asked,
            slip=slip,
            refused=refused,
            found=found,
            looks=[look_view(look, found) for look in found.looks] if found else [],
            count=len(facts),
            drawn=_drawn,
        )
        return (body, 400) if slip else body

    @bp.get("/insight/compare")
    def compare() -> str | tuple[str, int]:
        facts = book.facts()
        slips: dict[str, str] = {}
        chosen: list[CastFacts | None] = []
        for name in ("a", "b"):
            try:
                chosen.append(cast_named(request.args, name, facts))
            except WrongField as why:
                slips[name] = why.sentence()
                chosen.append(None)
        first, second = chosen
        result = compared(first, second, facts) if first is not None and second is not None else None
        body = render_template(
            "compare.html",
            typed={name: request.args.get(name, "")[:20] for name in ("a", "b")},
            slips=slips,
            numbers=[one.number for one in reversed(facts)][:60],
            first=first,
            second=second,
            found=result,
            rows=rows(result) if result else (),
        )
        return (body, 400) if slips else body

    @bp.get("/api/insight/differences")
    def api() -> Response:
        facts = book.facts(mold=request.args.get("mold", ""), material=request.args.get("material", ""))
        found = found_of(facts, question(request.args))
        return jsonify(plain_difference(found))

    return bp


KEPT = 8
"""So many answers are kept; a cast more and the question is another one."""


def _drawn(drawing: Drawing) -> Markup:
    return Markup(svg(drawing))
