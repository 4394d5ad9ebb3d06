"""The page of advice: what to change next, why, how sure; a button lets the next plans use it, another ends that."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass

from flask import Blueprint, Response, jsonify, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.core.adopted import casts_words, value_words
from station.core.advice_events import AdviceAdopted, AdviceKind
from station.core.learning_messages import AdoptAdvice, DropAdvice
from station.core.material import Material, Mold
from station.errors import Refused, StationError, WrongField
from station.insight.advice import Advice, NoAdvice, advised, figure, interval, wanted_density
from station.phone import guard
from station.phone.advice_typed import LONGEST, Typed, density_of, sheet_of, typed_of
from station.phone.learning_view import LearningBook
from station.phone.shelf import Ask
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class InUse:
    """Advice that plans use, in words, and what drops it."""

    kind: AdviceKind
    mold: str
    material: str
    words: str
    source: str


def advice_pages(book: LearningBook, ask: Ask) -> Blueprint:
    """The routes under /insight/advice, and /api/insight/advice."""
    bp = Blueprint("advice", __name__)
    one_at_a_time = threading.Lock()

    def told(material: Material, mold: Mold, density: float | None) -> tuple[Advice | NoAdvice, ...]:
        casts = book.facts(material=material.key)
        with one_at_a_time:
            return advised(casts, material, mold, celsius=book.celsius(), density=density)

    def page(typed: Typed, said: str = "", at: str = "", status: int = 200) -> tuple[str, int]:
        material, mold = sheet_of(book.materials(), typed.material), sheet_of(book.molds(), typed.mold)
        density = None
        try:
            density = density_of(typed.density)
        except WrongField as why:
            said, at, status = why.sentence(), why.field, 409
        all_told = told(material, mold, density) if material and mold else ()
        wanted = wanted_density(book.facts(material=material.key), material, mold) if material and mold else None
        return (
            render_template(
                "advice.html",
                typed=typed,
                said=said,
                at=at,
                materials=book.materials(),
                molds=book.molds(),
                material=material,
                mold=mold,
                advice=[one for one in all_told if isinstance(one, Advice)],
                lacking=[one for one in all_told if isinstance(one, NoAdvice)],
                in_use=[_in_use(one, book) for one in book.adopted()],
                adopted={_key(one.kind, one.mold, one.material): one.value for one in book.adopted()},
                key=_key,
                known=book.known(material) if material else (),
                wanted="" if wanted is None else number(1000 * wanted.density, ".1f"),
                figure=figure,
                interval=interval,
            ),
            status,
        )

    @bp.get("/insight/advice")
    def advice() -> tuple[str, int]:
        return page(typed_of(request.args, book))

    @bp.post("/insight/advice/adopt")
    def adopt() -> Answer | tuple[str, int]:
        typed = typed_of(request.form, book)
        try:
            material, mold = sheet_of(book.materials(), typed.material), sheet_of(book.molds(), typed.mold)
            if material is None or mold is None:
                raise Refused(t("That material or mold is not on the shelf any more."), t("Choose another."))
            found = _same(told(material, mold, density_of(typed.density)), request.form)
            ask(
                AdoptAdvice(
                    found.kind,
                    mold.key if found.kind.of_mold else "",
                    material.key,
                    found.value,
                    found.low,
                    found.high,
                    found.from_casts,
                    guard.device(),
                )
            )
        except WrongField as why:
            return page(typed, why.sentence(), why.field, 409)
        except StationError as why:
            return page(typed, why.sentence(), "", 409)
        return redirect(url_for("advice.advice", material=typed.material, mold=typed.mold, density=typed.density), 303)

    @bp.post("/insight/advice/drop")
    def drop() -> Answer | tuple[str, int]:
        kind = request.form.get("kind", "")
        try:
            if kind not in AdviceKind.__members__:
                raise Refused(t("Plans do not use that advice."), t("Look at the page Advice again."))
            of_mold, of_material = request.form.get("of_mold", ""), request.form.get("of_material", "")
            ask(DropAdvice(AdviceKind[kind], of_mold[:LONGEST], of_material[:LONGEST], guard.device()))
        except StationError as why:
            return page(typed_of(request.form, book), why.sentence(), "", 409)
        return redirect(url_for("advice.advice"), 303)

    @bp.get("/api/insight/advice")
    def api() -> Response:
        typed = typed_of(request.args, book)
        material, mold = sheet_of(book.materials(), typed.material), sheet_of(book.molds(), typed.mold)
        all_told = told(material, mold, density_of(typed.density)) if material and mold else ()
        return jsonify(
            {
                "material": "" if material is None else material.key,
                "mold": "" if mold is None else mold.key,
                "advice": [_wire(one) for one in all_told],
                "adopted": [
                    {"kind": one.kind.name, "mold": one.mold, "material": one.material, "value": one.value}
                    for one in book.adopted()
                ],
            }
        )

    return bp


def _wire(one: Advice | NoAdvice) -> dict[str, object]:
    if isinstance(one, NoAdvice):
        return {"kind": one.kind.name, "why_not": one.why}
    return {
        "kind": one.kind.name,
        "value": one.value,
        "low": one.low,
        "high": one.high,
        "unit": one.kind.unit,
        "casts": list(one.from_casts),
        "rule": one.rule,
        "cautions": list(one.cautions),
    }


def _same(told: tuple[Advice | NoAdvice, ...], form: Mapping[str, str]) -> Advice:
    """The advice whose button was pressed. Raises Refused when it has become another since the page was made."""
    found = next((one for one in told if isinstance(one, Advice) and one.kind.name == form.get("kind")), None)
    if found is None or figure(found.kind, found.value) != form.get("shown"):
        raise Refused(t("The advice has changed since this page was made."), t("Look at it again, then decide."))
    return found


def _in_use(one: AdviceAdopted, book: LearningBook) -> InUse:
    material = next((sheet.title for sheet in book.materials() if sheet.key == one.material), one.material)
    mold = next((sheet.title for sheet in book.molds() if sheet.key == one.mold), one.mold)
    place = f"{material}, {mold}" if one.mold else material
    words = t("{place}: {what} {value}", place=place, what=t(one.kind.value), value=value_words(one))
    source = t("adopted from your own casts ({casts})", casts=casts_words(one))
    return InUse(one.kind, one.mold, one.material, words, source)


def _key(kind: AdviceKind, mold: str, material: str) -> str:
    return f"{kind.name} {mold} {material}"
