"""One table of a sheet into one material, mold or lot, with every problem of the table complained about."""

from __future__ import annotations

from datetime import date

from station import sheet_materials
from station.core.mass import Mass
from station.core.material import TOTAL, Additive, Basis, Component, Lot, Material, Mold, Times
from station.core.reviewing.times import out_of_order
from station.errors import SettingsError
from station.quantities import celsius, density, percent, seconds, some_mass, volume
from station.reading import Reader, one_of, positive, text, texts, whole, within, yes_no
from station.texts import number, t

NOT_SAID = "?"
"""Stands for a name that the sheet does not give, until its problems are told."""


def material(reader: Reader, *, to_review: bool = False) -> Material:
    """A [[material]] table with its components, additives and times.

    `to_review`: what only contradicts itself is no problem yet, for a review is to tell it with all the rest.
    """
    basis = Basis(reader.need("basis", one_of(*(b.value for b in Basis)), Basis.WEIGHT.value))
    components = tuple(_component(part, basis) for part in reader.tables("component"))
    names = tuple(component.name for component in components)
    if len(components) < 2:
        reader.complain(t("needs at least two [[material.component]] tables"), "component")
    additives = tuple(_additive(part, names) for part in reader.tables("additive"))
    called = [*names, *(additive.name for additive in additives)]
    for name in sorted({name for name in called if called.count(name) > 1} - {NOT_SAID}):
        reader.complain(t("{name} names two of its components and additives", name=repr(name)), "component")
    sheet = Material(
        key=reader.need("key", text, NOT_SAID),
        title=reader.need("title", text, NOT_SAID),
        components=components,
        basis=basis,
        times=_times(reader.table("times"), to_review),
        tolerance_percent=reader.need("tolerance", within(percent, 0.1, 20, "%"), 2.0),
        weigh_order=_order(reader, names),
        pour_into=_known(reader, "pour_into", names, names[-1] if names else ""),
        additives=additives,
        cling_percent=reader.take("cling", within(percent, 0, 20, "%"), 1.0),
        ready_items=reader.take("ready", texts, ()),
        cautions=reader.take("cautions", texts, ()),
        example=reader.take("example", yes_no, False),
        chemistry=sheet_materials.chemistry(reader),
        density=reader.take("density", within(density, 0.3, 5, "g/cm³"), None),
        foam=sheet_materials.foam(reader, to_review=to_review),
        hardness=reader.take("hardness", text, ""),
        shrinkage_percent=reader.take("shrinkage", within(percent, 0, 10, "%"), None),
        kits=sheet_materials.kits(reader, names),
    )
    reader.done()
    return sheet


def _component(reader: Reader, basis: Basis) -> Component:
    by_volume = basis is Basis.VOLUME
    if by_volume and not reader.has("density"):
        reader.complain(t("density is missing: a ratio by volume needs the density of every component"), "density")
    component = Component(
        name=reader.need("name", text, NOT_SAID),
        parts=reader.need("parts", positive, 1.0),
        density=reader.take("density", within(density, 0.3, 5, "g/cm³"), None),
        other_parts=reader.take("other_parts", positive, None),
        isocyanate=reader.take("isocyanate", yes_no, False),
        nco_percent=reader.take("nco", within(percent, 1, 60, "%"), None),
        oh_number=reader.take("oh", within(positive, 1, 2000, "mg KOH/g"), None),
        opened_life_d=_days(reader),
    )
    if component.name == TOTAL:
        reader.complain(t("this word means all components together; choose another"), "name", repr(TOTAL))
    reader.done()
    return component


def _days(reader: Reader) -> float | None:
    found = reader.take("keeps_opened", within(seconds, 3600, 3660 * 86400, "s"), None)
    return None if found is None else found / 86400


def _additive(reader: Reader, names: tuple[str, ...]) -> Additive:
    additive = Additive(
        name=reader.need("name", text, NOT_SAID),
        percent=reader.need("percent", within(percent, 0.01, 100, "%"), 1.0),
        of=_known(reader, "of", (*names, TOTAL), TOTAL),
        into=_known(reader, "into", names, names[0] if names else ""),
        premix_s=reader.take("premix", within(seconds, 0, 3600, "s"), 0.0),
        tolerance_percent=reader.take("tolerance", within(percent, 0.1, 50, "%"), 10.0),
    )
    reader.done()
    return additive


def _known(reader: Reader, key: str, names: tuple[str, ...], stand_in: str) -> str:
    # Without any component there is nothing to compare with, and that is told already.
    return reader.need(key, one_of(*names) if names else text, stand_in)


def _order(reader: Reader, names: tuple[str, ...]) -> tuple[str, ...]:
    order = reader.take("weigh_order", texts, names)
    if names and sorted(order) != sorted(names):
        reader.complain(
            t("must name every component once: {names}", names=", ".join(names)), "weigh_order", repr(list(order))
        )
        return names
    return order


def _times(reader: Reader, to_review: bool) -> Times:
    day_s, year_s = 86400.0, 366 * 86400.0
    times = Times(
        pot_life_s=reader.need("pot_life", within(seconds, 5, 2 * day_s, "s"), 600.0),
        mix_s=reader.need("mix", within(seconds, 0, 3600, "s"), 0.0),
        pour_reserve_s=reader.need("pour_reserve", within(seconds, 0, day_s, "s"), 0.0),
        demold_s=reader.need("demold", within(seconds, 1, 30 * day_s, "s"), day_s),
        full_cure_s=reader.take("full_cure", within(seconds, 1, year_s, "s"), None),
        reference_c=reader.need("reference", within(celsius, 5, 80, "°C"), 23.0),
        pot_life_g=_grams(reader, "pot_life_for"),
        pot_life_by_mass=sheet_materials.pot_life_of(reader),
        coldest_c=reader.take("coldest", within(celsius, -10, 80, "°C"), None),
        warmest_c=reader.take("warmest", within(celsius, 5, 120, "°C"), None),
        activation_kj=reader.take("activation", sheet_materials.activation, None),
        at=sheet_materials.times_at(reader),
    )
    if not reader.spoiled and not to_review:
        for key, said in out_of_order(times):
            reader.complain(said, key)
    reader.done()
    return times


def _grams(reader: Reader, key: str) -> float | None:
    found: Mass | None = reader.take(key, some_mass, None)
    return None if found is None else found.g


def mold(reader: Reader) -> Mold:
    """A [[mold]] table."""
    cavity = Mold(
        key=reader.need("key", text, NOT_SAID),
        title=reader.need("title", text, NOT_SAID),
        shot=reader.take("shot", some_mass, None),
        closes=reader.take("closes", yes_no, True),
        ready_items=reader.take("ready", texts, ()),
        cautions=reader.take("cautions", texts, ()),
        cavity_cm3=reader.take("cavity", within(volume, 0.1, 1_000_000, "cm³"), None),
        packing=reader.take("packing", within(positive, 0.5, 10, ""), None),
        price=reader.take("price", sheet_materials.price, None),
        lasts=reader.take("lasts", whole(1, 100_000), None),
        shrinkage_percent=reader.take("shrinkage", within(percent, 0, 10, "%"), None),
        release_every=reader.take("release_every", whole(1, 1000), None),
    )
    reader.done()
    return cavity


def lot(reader: Reader) -> Lot:
    """A [[lot]] table: one container."""
    empty = reader.take("empty", some_mass, None)
    container = Lot(
        component=reader.need("component", text, NOT_SAID),
        number=reader.need("number", text, NOT_SAID),
        left=_left(reader, empty),
        material=reader.take("material", text, ""),
        empty=empty,
        opened=reader.take("opened", day, None),
        best_before=reader.take("best_before", day, None),
    )
    reader.done()
    return container


def _left(reader: Reader, empty: Mass | None) -> Mass | None:
    """What is in a container: said so, or weighed with it (`gross`) and the bare container taken off."""
    left: Mass | None = reader.take("left", some_mass, None)
    gross: Mass | None = reader.take("gross", some_mass, None)
    if not reader.has("gross"):
        return left
    if reader.has("left"):
        reader.complain(t("gross and left are both given: keep the one that was weighed"), "gross")
    elif not reader.has("empty"):
        reader.complain(t("gross needs empty, what the bare container weighs: one of the same kind will do"), "empty")
    elif gross is not None and empty is not None:
        if gross > empty:
            return gross - empty
        reader.complain(
            t("gross ({gross} g) must be more than empty ({empty} g)", gross=number(gross.g), empty=number(empty.g)),
            "gross",
        )
    return None


def day(value: object) -> date:
    """A day such as 2026-03-14, with or without quotes."""
    if type(value) is date:
        return value
    try:
        return date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        raise SettingsError([t("must be a day, such as 2026-03-14")]) from None
