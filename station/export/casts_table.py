"""The table of casts: one line a cast, all that can be said of it in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from station.export.form import Column, Kind, Table, Told
from station.texts import N_

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime

    from station.records import When


def _part(name: str, inside: Any = None) -> Callable[[Told], Any]:
    """Something of the part; `inside` while it is in its mold."""

    def got(of: Told) -> Any:
        return inside if of.record.part is None else getattr(of.record.part, name)

    return got


def _wall(name: str) -> Callable[[Told], datetime | None]:
    """The wall time of a station of the cast, None where it has not come to it."""

    def got(of: Told) -> datetime | None:
        at: When | None = getattr(of.record.course, name)
        return None if at is None else at.wall

    return got


def _fact(name: str) -> Callable[[Told], Any]:
    """One of the facts, None until the cast was poured."""

    def got(of: Told) -> Any:
        return None if of.facts is None else getattr(of.facts, name)

    return got


def _verdict(of: Told) -> str | None:
    part = of.record.part
    return None if part is None or part.verdict is None else part.verdict.value


def _part_mg(of: Told) -> int | None:
    part = of.record.part
    return None if part is None or part.mass is None else part.mass.mg


def _trimmed(of: Told) -> bool | None:
    part = of.record.part
    return None if part is None or part.mass is None else part.trimmed


def _defects(of: Told) -> int | None:
    part = of.record.part
    return None if part is None or part.verdict is None else len(part.defects)


CASTS: Final[Table[Told]] = Table(
    "casts",
    N_("One line for each cast."),
    lambda told: (told,),
    (
        Column("number", Kind.WHOLE, N_("number of the cast"), lambda of: of.record.number),
        Column("begun", Kind.TIME, N_("when it was begun"), lambda of: of.record.course.begun.wall),
        Column(
            "begun_sure",
            Kind.FLAG,
            N_("whether the clock was right at that time"),
            lambda of: of.record.course.begun.sure,
        ),
        Column("begun_by", Kind.TEXT, N_("where it was begun: a device, or the pedal"), lambda of: of.record.begun_by),
        Column("material_key", Kind.TEXT, N_("key of the material's sheet"), lambda of: of.plan.material.key),
        Column("material", Kind.TEXT, N_("title of the material"), lambda of: of.record.material),
        Column("mold_key", Kind.TEXT, N_("key of the mold's sheet"), lambda of: of.plan.mold.key),
        Column("mold", Kind.TEXT, N_("title of the mold"), lambda of: of.record.mold),
        Column("cavity_cm3", Kind.NUMBER, N_("volume of the cavity, cm³"), lambda of: of.plan.mold.cavity_cm3),
        Column("way", Kind.WORD, N_("one cup, or two cups"), lambda of: of.record.way),
        Column("stage", Kind.WORD, N_("how far it came, or how it ended"), lambda of: of.record.stage.value),
        Column("ending", Kind.TEXT, N_("why it was lost or given up"), lambda of: str(of.record.ending)),
        Column("planned_mg", Kind.MASS, N_("planned mass of the mix"), lambda of: of.record.planned_total.mg),
        Column("actual_mg", Kind.MASS, N_("what was mixed"), lambda of: of.record.actual_total.mg),
        Column(
            "left_in_cup_mg",
            Kind.MASS,
            N_("what stayed in the mixing cup; empty when it was not weighed"),
            lambda of: None if of.record.left_in_cup is None else of.record.left_in_cup.mg,
        ),
        Column("readability_mg", Kind.MASS, N_("readability d of the scale"), lambda of: of.record.readability.mg),
        Column(
            "sheet_ratio", Kind.TEXT, N_("mix ratio of the sheet, with its basis"), lambda of: of.record.sheet_ratio
        ),
        Column("pot_life_s", Kind.NUMBER, N_("pot life counted to, s"), lambda of: of.record.pot_life_s),
        Column("contact", Kind.TIME, N_("first contact of the components"), _wall("contact")),
        Column("mix_started", Kind.TIME, N_("mixing began"), _wall("mix_started")),
        Column("mixed", Kind.TIME, N_("mixing ended"), _wall("mixed")),
        Column("poured", Kind.TIME, N_("poured"), _wall("poured")),
        Column("closed", Kind.TIME, N_("mold closed"), _wall("closed")),
        Column("demolded", Kind.TIME, N_("out of the mold"), _wall("demolded")),
        Column("mix_s", Kind.NUMBER, N_("time of mixing, s"), lambda of: of.record.course.mix_s),
        Column(
            "contact_to_poured_s",
            Kind.NUMBER,
            N_("from first contact to the pour, s"),
            lambda of: of.record.course.contact_to_poured_s,
        ),
        Column(
            "contact_to_closed_s",
            Kind.NUMBER,
            N_("from first contact to the closed mold, s"),
            lambda of: of.record.course.contact_to_closed_s,
        ),
        Column(
            "poured_to_demolded_s",
            Kind.NUMBER,
            N_("from the pour until it was out of the mold, s"),
            lambda of: of.record.course.poured_to_demolded_s,
        ),
        Column(
            "temperature_low_c",
            Kind.NUMBER,
            N_("lowest temperature noted, °C"),
            lambda of: min(of.record.temperatures_c, default=None),
        ),
        Column(
            "temperature_high_c",
            Kind.NUMBER,
            N_("highest temperature noted, °C"),
            lambda of: max(of.record.temperatures_c, default=None),
        ),
        Column(
            "humidity_low_percent",
            Kind.NUMBER,
            N_("lowest relative humidity noted, %"),
            lambda of: min(of.record.humidities_percent, default=None),
        ),
        Column(
            "humidity_high_percent",
            Kind.NUMBER,
            N_("highest relative humidity noted, %"),
            lambda of: max(of.record.humidities_percent, default=None),
        ),
        Column("alarms", Kind.WHOLE, N_("alarms that sounded"), lambda of: len(of.record.alarms)),
        Column("missed", Kind.WHOLE, N_("of what was due, how much was missed"), lambda of: len(of.record.missed)),
        Column("overshoots", Kind.WHOLE, N_("times that too much was poured"), lambda of: len(of.record.overshoots)),
        Column(
            "outages", Kind.WHOLE, N_("times that the station was off meanwhile"), lambda of: len(of.record.outages)
        ),
        Column("mold_shot", Kind.WHOLE, N_("pours into this mold up to this one"), _fact("mold_shot")),
        Column(
            "shots_since_release",
            Kind.WHOLE,
            N_("those since its release agent was renewed, this one included; empty when it never was"),
            _fact("shots_since_release"),
        ),
        Column("pause_days", Kind.NUMBER, N_("days since the pour before, in whatever mold"), _fact("pause_days")),
        Column("verdict", Kind.WORD, N_("good, usable or scrap; empty when nobody has judged it"), _verdict),
        Column("waits", Kind.FLAG, N_("the part is out and waits for its verdict"), _part("waits")),
        Column("waived", Kind.TEXT, N_("why nobody will judge it"), _part("waived", "")),
        Column("verdict_note", Kind.TEXT, N_("remark on the verdict"), _part("note", "")),
        Column("part_mg", Kind.MASS, N_("mass of the part"), _part_mg),
        Column("part_trimmed", Kind.FLAG, N_("flash and sprue were cut off before it was weighed"), _trimmed),
        Column("density_g_cm3", Kind.NUMBER, N_("mass of the part / volume of the cavity, g/cm³"), _part("density")),
        Column("packing_factor", Kind.NUMBER, N_("that density / free-rise density of the sheet"), _part("packing")),
        Column("defects", Kind.WHOLE, N_("defects that were named"), _defects),
        Column(
            "photos",
            Kind.WHOLE,
            N_("photos that are shown of it"),
            lambda of: sum(one.removed is None for one in of.record.photos),
        ),
    ),
)
