"""Sheets: materials, molds and lots as a person writes them down from a technical data sheet, in TOML.

Each file may hold any number of [[material]], [[mold]] and [[lot]] tables. Every problem of every file is
listed at once, with file, table, key, value and what is accepted.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from station.core.mass import ZERO, Mass
from station.core.material import TOTAL, Additive, Basis, Component, Lot, Material, Mold, Times
from station.errors import SettingsError
from station.quantities import celsius, density, mass, percent, seconds
from station.reading import Reader, one_of, positive, text, texts, toml_table, within, yes_no

NOT_SAID = "?"


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
    materials: list[Material] = []
    molds: list[Mold] = []
    lots: list[Lot] = []
    for path in _files(tuple(places) or (example_folder(),), problems):
        try:
            top = Reader(toml_table(path), str(path), problems)
        except SettingsError as wrong:
            problems += wrong.problems
            continue
        found = (top.tables("material"), top.tables("mold"), top.tables("lot"))
        if not any(found):
            top.complain("no [[material]], [[mold]] or [[lot]] in it")
        materials += [_material(reader) for reader in found[0]]
        molds += [_mold(reader) for reader in found[1]]
        lots += [_lot(reader) for reader in found[2]]
        top.done()
    _unique("material key", [m.key for m in materials], problems)
    _unique("mold key", [m.key for m in molds], problems)
    _unique("lot number", [lot.number for lot in lots], problems)
    if problems:
        raise SettingsError(problems)
    return Sheets(tuple(materials), tuple(molds), tuple(lots))


def _files(places: Iterable[Path], problems: list[str]) -> list[Path]:
    files: list[Path] = []
    for place in places:
        if place.is_dir():
            inside = sorted(path for path in place.glob("*.toml") if path.name != "station.toml")
            if not inside:
                problems.append(f"{place}: there is no *.toml sheet in this folder.")
            files += inside
        else:
            files.append(place)
    return files


def _unique(what: str, names: list[str], problems: list[str]) -> None:
    problems += [f"{what} {name!r} is used twice." for name in sorted({n for n in names if names.count(n) > 1})]


def _material(reader: Reader) -> Material:
    basis = Basis(reader.need("basis", one_of(*(b.value for b in Basis)), Basis.WEIGHT.value))
    components = tuple(_component(part, basis) for part in reader.tables("component"))
    names = tuple(component.name for component in components)
    if len(components) < 2:
        reader.complain("needs at least two [[material.component]] tables")
    if len(set(names)) != len(names):
        reader.complain("two components have the same name")
    additives = tuple(_additive(part, names) for part in reader.tables("additive"))
    material = Material(
        key=reader.need("key", text, NOT_SAID),
        title=reader.need("title", text, NOT_SAID),
        components=components,
        basis=basis,
        times=_times(reader.table("times")),
        tolerance_percent=reader.need("tolerance", within(percent, 0.1, 20, "%"), 2.0),
        weigh_order=_order(reader, names),
        pour_into=_known(reader, "pour_into", names, names[-1] if names else ""),
        additives=additives,
        cling_percent=reader.take("cling", within(percent, 0, 20, "%"), 1.0),
        ready_items=reader.take("ready", texts, ()),
        cautions=reader.take("cautions", texts, ()),
        example=reader.take("example", yes_no, False),
    )
    reader.done()
    return material


def _component(reader: Reader, basis: Basis) -> Component:
    by_volume = basis is Basis.VOLUME
    if by_volume and not reader.has("density"):
        reader.complain("density is missing: a ratio by volume needs the density of every component")
    component = Component(
        name=reader.need("name", text, NOT_SAID),
        parts=reader.need("parts", positive, 1.0),
        density=reader.take("density", within(density, 0.3, 5, "g/cm³"), None),
    )
    reader.done()
    return component


def _additive(reader: Reader, names: tuple[str, ...]) -> Additive:
    additive = Additive(
        name=reader.need("name", text, NOT_SAID),
        percent=reader.need("percent", within(percent, 0.01, 100, "%"), 1.0),
        of=_known(reader, "of", (*names, TOTAL), TOTAL),
        into=_known(reader, "into", names, names[0] if names else ""),
        premix_s=reader.take("premix", within(seconds, 0, 3600, "s"), 0.0),
        tolerance_percent=reader.take("tolerance", within(percent, 0.1, 50, "%"), 10.0),
    )
    if additive.name in names:
        reader.complain(f"name = {additive.name!r} is the name of a component")
    reader.done()
    return additive


def _known(reader: Reader, key: str, names: tuple[str, ...], stand_in: str) -> str:
    return reader.need(key, one_of(*names), stand_in)


def _order(reader: Reader, names: tuple[str, ...]) -> tuple[str, ...]:
    order = reader.take("weigh_order", texts, names)
    if sorted(order) != sorted(names):
        reader.complain(f"weigh_order = {list(order)!r}: must name every component once: {', '.join(names)}")
        return names
    return order


def _times(reader: Reader) -> Times:
    day_s, year_s = 86400.0, 366 * 86400.0
    times = Times(
        pot_life_s=reader.need("pot_life", within(seconds, 5, 2 * day_s, "s"), 600.0),
        mix_s=reader.need("mix", within(seconds, 0, 3600, "s"), 0.0),
        pour_reserve_s=reader.need("pour_reserve", within(seconds, 0, day_s, "s"), 0.0),
        demold_s=reader.need("demold", within(seconds, 1, 30 * day_s, "s"), day_s),
        full_cure_s=reader.take("full_cure", within(seconds, 1, year_s, "s"), None),
        reference_c=reader.need("reference", within(celsius, 5, 80, "°C"), 23.0),
    )
    if times.mix_s + times.pour_reserve_s >= times.pot_life_s:
        reader.complain(
            f"mix ({times.mix_s:g} s) and pour_reserve ({times.pour_reserve_s:g} s) together must be shorter than "
            f"pot_life ({times.pot_life_s:g} s)"
        )
    if times.demold_s <= times.pot_life_s:
        reader.complain(f"demold ({times.demold_s:g} s) must be longer than pot_life ({times.pot_life_s:g} s)")
    if times.full_cure_s is not None and times.full_cure_s < times.demold_s:
        reader.complain(f"full_cure ({times.full_cure_s:g} s) must not be shorter than demold ({times.demold_s:g} s)")
    reader.done()
    return times


def _mold(reader: Reader) -> Mold:
    mold = Mold(
        key=reader.need("key", text, NOT_SAID),
        title=reader.need("title", text, NOT_SAID),
        shot=reader.take("shot", _above_zero, None),
        closes=reader.take("closes", yes_no, True),
        ready_items=reader.take("ready", texts, ()),
        cautions=reader.take("cautions", texts, ()),
    )
    reader.done()
    return mold


def _lot(reader: Reader) -> Lot:
    lot = Lot(
        component=reader.need("component", text, NOT_SAID),
        number=reader.need("number", text, NOT_SAID),
        left=reader.take("left", _above_zero, None),
    )
    reader.done()
    return lot


def _above_zero(value: object) -> Mass:
    found = mass(value)
    if found <= ZERO:
        raise SettingsError(["must be above zero"])
    return found
