"""The owner of the sheets: reads them, takes in a material or a lot from a form, and offers it at once."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Mapping
from pathlib import Path

import tomlkit

from station.core.material import Material
from station.core.review import Review, review
from station.errors import Refused, SettingsError
from station.keeping import replace_whole
from station.sheet_form import LOT, MATERIAL, Group, field, written
from station.sheets import Sheets, example_folder, read_sheets

NEW = "the form"
LOTS = "lots.toml"


class SheetDesk:
    """Sheets of the settings, and beside the record those that were entered here. Called from many threads."""

    def __init__(self, places: tuple[Path, ...], state_dir: Path) -> None:
        self._places = places or (example_folder(),)
        self._own = state_dir / "sheets"
        self._lock = threading.Lock()
        self._sheets = read_sheets(self._all())

    def sheets(self) -> Sheets:
        """The sheets as they are now."""
        return self._sheets

    def reviewed(self) -> tuple[tuple[Material, Review], ...]:
        """Every material with what contradicts itself in its sheet, and what is not known."""
        return tuple((material, review(material)) for material in self._sheets.materials)

    def keep_material(self, typed: Mapping[str, str]) -> str:
        """Write a material down and offer it; gives its key. Raises Refused, or SettingsError with every problem."""
        _complete(MATERIAL, typed)
        key = typed["key"].strip()
        with self._lock:
            known = next((m for m in self._sheets.materials if m.key == key), None)
            if known is not None:
                raise Refused(
                    f"{key!r} is the short name of {known.title} already.",
                    "Choose another, or change that sheet's file: what was cast by it must stay what it was.",
                )
            if not key or not all(c.isascii() and (c.islower() or c.isdigit() or c == "-") for c in key):
                raise Refused(
                    f"{key!r} cannot be a short name.", "Small letters, digits and hyphens, such as soft-foam-96."
                )
            many = tomlkit.aot()
            many.append(written(MATERIAL, typed))
            document = tomlkit.document()
            document.add(tomlkit.comment("Entered on the station's page from a data sheet."))
            document.add("material", many)
            self._taken_in(self._own / f"{key}.toml", tomlkit.dumps(document))
        return key

    def keep_lot(self, typed: Mapping[str, str]) -> str:
        """Write a lot down and offer it; gives its number. Raises Refused, or SettingsError with every problem."""
        _complete(LOT, typed)
        place = self._own / LOTS
        with self._lock:
            document = tomlkit.parse(place.read_text("utf-8")) if place.exists() else tomlkit.document()
            many = document.get("lot")
            if many is None:
                many = tomlkit.aot()
                document.add("lot", many)
            many.append(written(LOT, typed))
            self._taken_in(place, tomlkit.dumps(document))
        return typed["number"].strip()

    def _taken_in(self, place: Path, text: str) -> None:
        """Read the new text with all the others first: what is not clean is not kept."""
        with tempfile.TemporaryDirectory() as folder:
            trial = Path(folder) / place.name
            trial.write_text(text, "utf-8")
            others = [path for path in self._all() if path.resolve() != place.resolve()]
            try:
                read_sheets((*others, trial))
            except SettingsError as wrong:
                raise SettingsError([said.replace(str(trial), NEW) for said in wrong.problems]) from None
        replace_whole(place, text)
        self._sheets = read_sheets(self._all())

    def _all(self) -> tuple[Path, ...]:
        own = sorted(self._own.glob("*.toml")) if self._own.is_dir() else []
        return (*self._places, *own)


def _complete(groups: tuple[Group, ...], typed: Mapping[str, str]) -> None:
    missing = [e.label for g in groups for e in g.entries if e.needed and not typed.get(field(g, e), "").strip()]
    if missing:
        raise Refused(f"Still empty: {', '.join(missing)}.", "The data sheet has them.")
