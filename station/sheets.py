"""Sheets: materials, molds and lots as a person writes them down from a technical data sheet, in TOML.

Each file may hold any number of [[material]], [[mold]] and [[lot]] tables. Every problem of every file is
listed at once, with file, table, key, value and what is accepted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from station.core.material import Lot, Material, Mold
from station.errors import SettingsError
from station.reading import Reader, toml_table
from station.sheet_tables import NOT_SAID, lot, material, mold
from station.texts import t, tc

T = TypeVar("T")
Found = list[tuple[T, Reader]]
"""What was read, each with the reader of its table, so that a later problem can name the place."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """All that is on the shelf, in the order of the files."""

    materials: tuple[Material, ...]
    molds: tuple[Mold, ...]
    lots: tuple[Lot, ...]


def example_folder() -> Path:
    """The sheets that come with the station: invented examples, to be replaced."""
    return Path(__file__).resolve().parent / "examples"


def read_sheets(places: Iterable[Path]) -> Sheets:
    """Read files and folders (their *.toml); the shipped examples when none is named. Raises SettingsError."""
    problems: list[str] = []
    materials: Found[Material] = []
    molds: Found[Mold] = []
    lots: Found[Lot] = []
    for path in _files(tuple(places) or (example_folder(),), problems):
        try:
            top = Reader(toml_table(path), str(path), problems)
        except SettingsError as wrong:
            problems += wrong.problems
            continue
        tables = [top.tables(kind) for kind in ("material", "mold", "lot")]
        if not any(tables) and not top.spoiled:
            top.complain(t("no [[material]], [[mold]] or [[lot]] in it"))
        materials += [(material(reader), reader) for reader in tables[0]]
        molds += [(mold(reader), reader) for reader in tables[1]]
        lots += [(lot(reader), reader) for reader in tables[2]]
        top.done()
    _unique("key", [(sheet.key, reader) for sheet, reader in materials])
    _unique("title", [(sheet.title, reader) for sheet, reader in materials])
    _unique("key", [(cavity.key, reader) for cavity, reader in molds])
    _unique("title", [(cavity.title, reader) for cavity, reader in molds])
    _unique("number", [(container.number, reader) for container, reader in lots])
    if not problems:
        _all_meant(lots, [sheet for sheet, _ in materials])
    if problems:
        raise SettingsError(problems)
    return Sheets(_values(materials), _values(molds), _values(lots))


def materials_to_review(path: Path, *, required: bool = True) -> tuple[tuple[Material, ...], tuple[str, ...]]:
    """The materials of one file that can be read, even those that no cast can be run on, and every other problem.

    `required`: that the file has none is a problem, too. Raises SettingsError for no TOML.
    """
    problems: list[str] = []
    top = Reader(toml_table(path), str(path), problems)
    found = []
    for reader in top.tables("material"):
        before = len(problems)
        sheet = material(reader, to_review=True)
        if len(problems) == before:
            found.append(sheet)
        else:
            problems.append(t("{where}: not reviewed further before it can be read.", where=reader.where))
    for kind in ("mold", "lot"):
        top.tables(kind)
    if required and not found and not problems:
        top.complain(t("no [[material]] in it"))
    top.done()
    return tuple(found), tuple(problems)


def files_of(place: Path) -> tuple[Path, ...]:
    """The sheets of a folder, or the file itself. Raises SettingsError when there is none."""
    problems: list[str] = []
    found = _files([place], problems)
    if problems:
        raise SettingsError(problems)
    return tuple(found)


def _files(places: Iterable[Path], problems: list[str]) -> list[Path]:
    """Every file once, though it be named both by itself and by its folder."""
    files: dict[Path, Path] = {}
    for place in places:
        inside = [place]
        if place.is_dir():
            inside = sorted(path for path in place.glob("*.toml") if path.name != "station.toml")
            if not inside:
                problems.append(t("{place}: there is no *.toml sheet in this folder.", place=place))
        for path in inside:
            files.setdefault(path.resolve(), path)
    return list(files.values())


def _unique(key: str, names: Sequence[tuple[str, Reader]]) -> None:
    first: dict[str, Reader] = {}
    for name, reader in names:
        if name != NOT_SAID and first.setdefault(name, reader) is not reader:
            reader.complain(t("already used in {where}", where=first[name].where), key, repr(name))


def _all_meant(lots: Found[Lot], materials: Sequence[Material]) -> None:
    """Complain about lots of something that no material is made of, or that several are when it does not say which."""
    made_of = {
        sheet.key: {part.name for part in sheet.components} | {part.name for part in sheet.additives}
        for sheet in materials
    }
    known = set().union(*made_of.values())
    for container, reader in lots:
        name, of = container.component, container.material
        having = [key for key, names in made_of.items() if name in names]
        if of and of not in made_of:
            names = ", ".join(made_of) or tc("material", "none")
            reader.complain(t("no such material is read; known: {names}", names=names), "material", repr(of))
        elif not having:
            names = ", ".join(sorted(known)) or t("none, for no material is read")
            reader.complain(t("no material has such a component; known: {names}", names=names), "component", repr(name))
        elif of and of not in having:
            made = ", ".join(sorted(made_of[of]))
            words = t("there is no such component in {material}; it has {made}", material=of, made=made)
            reader.complain(words, "component", repr(name))
        elif not of and len(having) > 1:
            # Component A of a foam must never be taken for A of a silicone.
            words = t(
                "material is missing: {name} may be of {materials}; say which",
                name=repr(name),
                materials=", ".join(having),
            )
            reader.complain(words, "material")


def _values(found: Found[T]) -> tuple[T, ...]:
    return tuple(value for value, _ in found)
