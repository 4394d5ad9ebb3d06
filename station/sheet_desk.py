"""The owner of the sheets: reads them, takes in a material, a mold or a lot from a form, and offers it at once."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from station.core.material import Material, Mold
from station.core.review import Review, review
from station.errors import Refused, SettingsError
from station.keeping import replace_whole
from station.reading import Problem, toml_table
from station.sheet_form.fields import LOT
from station.sheet_form.form import Group
from station.sheet_form.kinds import OF_MATERIAL, OF_MOLD, Kind, is_key
from station.sheet_form.slips import WHOLE, Slips, missing, placed
from station.sheet_form.writing import typed_from, written
from station.sheets import Sheets, example_folder, read_sheets
from station.texts import t

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

    def reload(self) -> None:
        """Read all files again. Raises SettingsError with every problem; then the sheets stay as they were."""
        with self._lock:
            self._sheets = read_sheets(self._all())

    def reviewed(self) -> tuple[tuple[Material, Review], ...]:
        """Every material with the review of its sheet; those that contradict themselves first."""
        told = [(material, review(material)) for material in self._sheets.materials]
        return tuple(sorted(told, key=lambda one: not one[1].contradictions))

    def molds(self) -> tuple[Mold, ...]:
        """Every mold, in the order in which they were read."""
        return self._sheets.molds

    def changeable(self, key: str) -> bool:
        """Whether the sheet of this key was entered here, so that it can be changed here."""
        return self._entered(OF_MATERIAL, key)

    def changeable_mold(self, key: str) -> bool:
        """The same of a mold."""
        return self._entered(OF_MOLD, key)

    def typed(self, key: str) -> Mapping[str, str]:
        """What to fill into the form to get the sheet of this key. Raises Refused."""
        return self._typed(OF_MATERIAL, key)

    def typed_mold(self, key: str) -> Mapping[str, str]:
        """The same of a mold."""
        return self._typed(OF_MOLD, key)

    def keep_material(self, typed: Mapping[str, str], instead_of: str = "") -> str:
        """Write a material down and offer it; gives its key. Raises Slips with what is wrong at each field.

        A sheet is written over only where it is named by `instead_of`; the old one stays beside it.
        """
        with self._lock:
            return self._keep(OF_MATERIAL, {m.key: m.title for m in self._sheets.materials}, typed, instead_of)

    def keep_mold(self, typed: Mapping[str, str], instead_of: str = "") -> str:
        """The same of a mold. Casts that are on record keep the values with which they were planned."""
        with self._lock:
            return self._keep(OF_MOLD, {m.key: m.title for m in self._sheets.molds}, typed, instead_of)

    def keep_lot(self, typed: Mapping[str, str]) -> str:
        """Write a lot down and offer it; gives its number. Raises Slips with what is wrong at each field."""
        import tomlkit  # only for what is entered

        place = self._own / LOTS
        with self._lock:
            read_sheets(self._all())  # the file may have been changed by hand: what is wrong with it is told as that
            document = tomlkit.parse(place.read_text("utf-8-sig")) if place.exists() else tomlkit.document()
            many = document.get("lot")
            if many is None:
                many = tomlkit.aot()
                document.add("lot", many)
            many.append(written(LOT, typed))
            self._take_in(LOT, place, tomlkit.dumps(document), typed, wrong=missing(LOT, typed))
        return typed["number"].strip()

    def _entered(self, kind: Kind, key: str) -> bool:
        return is_key(key) and self._place(kind, key).is_file()

    def _place(self, kind: Kind, key: str) -> Path:
        return self._own / kind.file(key)

    def _typed(self, kind: Kind, key: str) -> Mapping[str, str]:
        if not self._entered(kind, key):
            raise Refused(
                t("The sheet of {key} was not entered on this page.", key=repr(key)), t("Change its file instead.")
            )
        found: Any = toml_table(self._place(kind, key))
        if set(found) != {kind.table} or len(found[kind.table]) != 1:
            raise Refused(
                t("The file of {key} holds more than that sheet.", key=repr(key)), t("Change the file instead.")
            )
        return typed_from(kind.groups, found[kind.table][0])

    def _keep(self, kind: Kind, known: Mapping[str, str], typed: Mapping[str, str], instead_of: str) -> str:
        """Write a sheet of this kind down; `known` are the titles by key. The lock is held."""
        import tomlkit

        key = typed.get("key", "").strip()
        wrong = missing(kind.groups, typed)
        if key and not is_key(key):
            wrong["key"] = [
                t(
                    "{key} cannot be a short name: small letters, digits and hyphens, as {such_as}.",
                    key=repr(key),
                    such_as=kind.such_as,
                )
            ]
        elif instead_of and key and key != instead_of:
            wrong["key"] = [
                t(
                    "It stays {instead_of}: {called_by} are called by it.",
                    instead_of=repr(instead_of),
                    called_by=t(kind.called_by),
                )
            ]
        elif key in known and not instead_of:
            wrong["key"] = [
                t("{key} is the short name of {known} already: choose another.", key=repr(key), known=known[key])
            ]
        place = self._place(kind, key)
        if "key" not in wrong and not instead_of and (place.exists() or place.name == LOTS):
            wrong["key"] = [t("A file {place} is kept here already: choose another short name.", place=place.name)]
        document = tomlkit.document()
        document.add(tomlkit.comment(t(kind.remark)))
        many = tomlkit.aot()
        many.append(written(kind.groups, typed))
        document.add(kind.table, many)
        before = place.read_text("utf-8") if instead_of and place.exists() else None
        self._take_in(kind.groups, place, tomlkit.dumps(document), typed, wrong=wrong, before=before)
        return key

    def _take_in(
        self,
        groups: tuple[Group, ...],
        place: Path,
        text: str,
        typed: Mapping[str, str],
        *,
        wrong: Mapping[str, list[str]],
        before: str | None = None,
    ) -> None:
        """Read the new text with all the others first: what is not clean is not kept. `wrong` is known already."""
        with tempfile.TemporaryDirectory() as folder:
            trial = Path(folder) / "form.toml"
            trial.write_text(text, "utf-8")
            others = [path for path in self._all() if path.resolve() != place.resolve()]
            try:
                read_sheets((*others, trial))
            except SettingsError as refused:
                # What is missing is told in the form's own words.
                wrong = {**_at_fields(groups, typed, refused.problems, trial), **wrong}
        if wrong:
            raise Slips(wrong)
        if before is not None:
            replace_whole(place.with_name(f"{place.name}.before"), before)
        replace_whole(place, text)
        self._sheets = read_sheets(self._all())

    def _all(self) -> tuple[Path, ...]:
        """The places, entered sheets file by file: a folder of the settings may be the very one that keeps them."""
        own = sorted(self._own.glob("*.toml")) if self._own.is_dir() else []
        return (*(place for place in self._places if place.resolve() != self._own.resolve()), *own)


def _at_fields(
    groups: tuple[Group, ...], typed: Mapping[str, str], problems: Sequence[str], trial: Path
) -> dict[str, list[str]]:
    """Problems of what was typed at their fields; those of other files, with their place, for the whole form."""
    own = [p for p in problems if isinstance(p, Problem) and p.where.startswith(str(trial))]
    found = placed(groups, typed, own)
    others = [str(p).replace(str(trial), t("the form")) for p in problems if p not in own]
    return found | ({WHOLE: [*found.get(WHOLE, []), *others]} if others else {})
