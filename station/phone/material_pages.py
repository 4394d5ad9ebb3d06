"""The page of the materials: what each sheet says, what contradicts itself in it, and entering a new one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.core.material import Material
from station.core.review import Review
from station.core.sheet_words import sheet_words
from station.errors import SettingsError, StationError
from station.sheet_form import LOT, MATERIAL, Group, field

TEXT_LIMIT = 2000


class Sheets(Protocol):
    """What the page needs of the sheets; called from many threads at once."""

    def reviewed(self) -> Sequence[tuple[Material, Review]]:
        """Every material with the review of its sheet."""
        ...

    def keep_material(self, typed: Mapping[str, str], /) -> str:
        """Write a material down; gives its key. Raises Refused or SettingsError."""
        ...

    def keep_lot(self, typed: Mapping[str, str], /) -> str:
        """Write a lot down; gives its number. Raises Refused or SettingsError."""
        ...


def material_pages(sheets: Sheets) -> Blueprint:
    """The routes under /materials."""
    bp = Blueprint("materials", __name__, url_prefix="/materials")

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_materials_page": True}

    @bp.get("")
    def everything() -> str:
        told = [(material, sheet_words(material), review) for material, review in sheets.reviewed()]
        return render_template("materials.html", told=told)

    @bp.get("/new")
    def material_form() -> str:
        return _form("material", MATERIAL, {}, [])

    @bp.post("/new")
    def material_entered() -> Answer | tuple[str, int]:
        typed = _typed()
        try:
            sheets.keep_material(typed)
        except StationError as wrong:
            return _form("material", MATERIAL, typed, _said(wrong)), 409
        return redirect(url_for("materials.everything"), 303)

    @bp.get("/lot")
    def lot_form() -> str:
        return _form("lot", LOT, {}, [])

    @bp.post("/lot")
    def lot_entered() -> Answer | tuple[str, int]:
        typed = _typed()
        try:
            sheets.keep_lot(typed)
        except StationError as wrong:
            return _form("lot", LOT, typed, _said(wrong)), 409
        return redirect("/stock", 303)

    return bp


def _typed() -> dict[str, str]:
    return {name: value[:TEXT_LIMIT] for name, value in request.form.items() if name != "token"}


def _said(wrong: StationError) -> list[str]:
    return list(wrong.problems) if isinstance(wrong, SettingsError) else [wrong.sentence()]


def _form(what: str, groups: tuple[Group, ...], typed: Mapping[str, str], said: list[str]) -> str:
    return render_template("sheet_form.html", what=what, groups=groups, field=field, typed=typed, said=said)
