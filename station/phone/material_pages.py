"""The page of the materials: what each sheet says, what contradicts itself in it, entering and changing one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.core.material import Material
from station.core.review import Review
from station.core.sheet_words import sheet_words
from station.errors import SettingsError, StationError
from station.phone.sheet_forms import Kind, entry_routes, sheet_form, typed_form
from station.sheet_form.fields import LOT, MATERIAL
from station.texts import N_, t


class Sheets(Protocol):
    """What the page needs of the sheets; called from many threads at once."""

    def reload(self) -> None:
        """Read all files again. Raises SettingsError; then the sheets stay as they were."""
        ...

    def reviewed(self) -> Sequence[tuple[Material, Review]]:
        """Every material with the review of its sheet, those that contradict themselves first."""
        ...

    def changeable(self, key: str, /) -> bool:
        """Whether the sheet was entered on this page."""
        ...

    def typed(self, key: str, /) -> Mapping[str, str]:
        """What to fill into the form to get that sheet. Raises Refused."""
        ...

    def keep_material(self, typed: Mapping[str, str], /, instead_of: str = "") -> str:
        """Write a material down; gives its key. Raises Slips, and Fault for the disk."""
        ...

    def keep_lot(self, typed: Mapping[str, str], /) -> str:
        """Write a lot down; gives its number. Raises Slips, SettingsError for another file, Fault for the disk."""
        ...


def material_pages(sheets: Sheets) -> Blueprint:
    """The routes under /materials."""
    bp = Blueprint("materials", __name__, url_prefix="/materials")

    @bp.app_context_processor
    def everywhere() -> dict[str, bool]:
        return {"has_materials_page": True}

    def listed(said: Sequence[str] = ()) -> str:
        told = [
            (material, sheet_words(material), review, sheets.changeable(material.key))
            for material, review in sheets.reviewed()
        ]
        return render_template("materials.html", told=told, said=said)

    @bp.get("")
    def everything() -> str:
        return listed()

    @bp.post("/reload")
    def read_again() -> Answer | tuple[str, int]:
        try:
            sheets.reload()
        except SettingsError as wrong:
            return listed(wrong.problems), 409
        return redirect(url_for("materials.everything"), 303)

    entry_routes(
        bp,
        Kind(
            "/materials", N_("Enter a material"), N_("Change a material"), MATERIAL, sheets.typed, sheets.keep_material
        ),
    )

    def lot_form(typed: Mapping[str, str], wrong: StationError | None = None) -> str:
        materials = [material for material, _ in sheets.reviewed()]
        names = sorted({name for material in materials for name in material.ingredients()})
        offered = {"material": [(m.key, m.title) for m in materials], "component": [(name, "") for name in names]}
        return sheet_form("/stock", t("Enter a container"), LOT, typed, wrong, offered=offered)

    @bp.get("/lot")
    def empty_lot_form() -> str:
        return lot_form({"material": request.args.get("material", "")})

    @bp.post("/lot")
    def lot_entered() -> Answer | tuple[str, int]:
        typed = typed_form()
        try:
            sheets.keep_lot(typed)
        except StationError as wrong:
            return lot_form(typed, wrong), 409
        return redirect("/stock", 303)

    return bp
