"""Worksheet: the shot of foam for a cavity, whether it fills and whether it presses."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.foam import Shot, free_rise_from_expansion, if_multiplied, shot, shot_for, split
from station.casting.foam_practice import FoamSort, warnings_of
from station.core.material import Material
from station.errors import Refused
from station.worksheets.form import Figure, Row, Values, Worked, Worksheet
from station.worksheets.mixing.foam_drawing import cup_and_mold
from station.worksheets.mixing.foam_fields import FIELDS, LIQUID_ASSUMED
from station.worksheets.mixing.foam_parts import FOAM_PARTS
from station.worksheets.mixing.mixes import parts_of, ratio_text
from station.worksheets.plain import plain

CAUTIONS = (
    "Isocyanate: ventilate, gloves, eye protection; a respirator as the safety data sheet says. No smell does not mean "
    "safe.",
    "A closed mold of rising foam is under pressure: vents open, lid clamped before it rises, stay clear until demold.",
    "A large mass grows hot inside: mix no more than is poured at once, and never leave a full cup standing.",
)
FULLEST = 0.8
"""A cup filled beyond this part cannot be stirred hard. Common practice, no source."""
SAME = 0.1
"""A free-rise density and an expansion that differ by more than this part contradict each other."""


def _kg_m3(density: float) -> str:
    return f"{plain(density * 1000, 4)} kg/m³"


def _free_rise(values: Values) -> tuple[float | None, str]:
    """Free-rise density in g/cm³ and how it comes about; None when nothing is told of it."""
    given, liquid, times = values["free-rise"], values["liquid"], values["expansion"]
    if times is None:
        return given, "as typed"
    if liquid is None:
        if given is not None:
            return given, "as typed"
        raise Refused("An expansion alone tells no density.", "Type the density of the liquid mix as well.")
    other = free_rise_from_expansion(liquid, times)
    if given is None:
        return other, f"{_kg_m3(liquid)} of liquid ÷ {times:g}"
    if not given > 0 or abs(other / given - 1) > SAME:
        raise Refused(
            f"A free-rise density of {_kg_m3(given)} and an expansion of {times:g} of a liquid of {liquid:g} g/cm³, "
            f"which is {_kg_m3(other)}, cannot both be right.",
            "Keep the one that your own free-rise cup shows.",
        )
    return given, f"as typed; the expansion says {_kg_m3(other)}"


def _made(values: Values, free_rise: float | None) -> tuple[Shot, str]:
    """The shot and how its molded density comes about."""
    if values["molded"] is not None:
        return shot_for(
            values["cavity"], values["molded"], free_rise=free_rise, loss_percent=values["loss"]
        ), "as typed"
    if free_rise is None:
        raise Refused(
            "Neither a free-rise nor a molded density is known.",
            "Type one of them, or the expansion together with the density of the liquid.",
        )
    made = shot(values["cavity"], free_rise, packing=values["packing"], loss_percent=values["loss"])
    return made, f"{_kg_m3(free_rise)} free rise × {values['packing']:g}"


def work(values: Values) -> Worked:
    """The shot with its warnings. Raises Refused when the densities are missing or contradict each other."""
    free_rise, of_rise = _free_rise(values)
    made, of_molded = _made(values, free_rise)
    parts = parts_of(values["ratio"])
    masses = dict(zip(parts, split(made.mixed_g, tuple(parts.values())), strict=True))
    liquid, assumed = values["liquid"], ""
    if liquid is None:
        liquid, assumed = LIQUID_ASSUMED, f" ({LIQUID_ASSUMED:g} g/cm³ assumed: type the density of the liquid)"
    rows = [
        Row("Mix in all", f"{made.mixed_g:.1f} g", _mixed_rule(made)),
        *(
            Row(
                name,
                f"{mass:.1f} g",
                f"{made.mixed_g:.1f} g × {parts[name]:g}/{plain(sum(parts.values()), 8)} by weight",
            )
            for name, mass in masses.items()
        ),
        Row(
            "In the mold",
            f"{made.part_g:.1f} g",
            f"{plain(made.cavity_cm3, 6)} cm³ × {plain(made.molded, 4)} g/cm³ molded density",
        ),
        Row("Molded density", _kg_m3(made.molded), of_molded),
        *_rise_rows(made, of_rise),
        Row(
            "Liquid in the cup before it rises",
            f"{made.liquid_cm3(liquid):.0f} cm³",
            f"{made.mixed_g:.1f} g ÷ {liquid:g} g/cm³{assumed}",
        ),
    ]
    least = values["minimum-fill"]
    if least is not None:
        rule = f"100 × {made.part_g:.1f} g ÷ {least:g} g that just fill this mold"
        rows.append(Row("Overpack", f"{made.overpack_percent(least):.0f} %", rule))
    figures: dict[str, Figure | dict[str, Figure]] = {
        "mixed_g": made.mixed_g,
        "part_g": made.part_g,
        "masses_g": dict(masses),
        "molded_g_cm3": made.molded,
        "packing": made.packing,
        "free_rise_g_cm3": made.free_rise,
        "free_rise_cm3": made.free_rise_cm3,
        "liquid_cm3": made.liquid_cm3(liquid),
        "overpack_percent": None if least is None else made.overpack_percent(least),
    }
    notes: tuple[str, ...] = (
        "Packing factor and overpack are not the same: one counts from free rise, the other from the least mass that "
        "fills your mold. Weigh your parts: they teach the station both.",
        "Free rise on the sheet is of a large block; a small cup has cold walls and rises less.",
    )
    if free_rise is not None:
        notes = (if_multiplied(made.cavity_cm3, liquid, values["expansion"] or liquid / free_rise) + assumed, *notes)
    drawing = cup_and_mold(made, liquid, values["cup"])
    return Worked(tuple(rows), figures, _warnings(values, made, liquid), notes, CAUTIONS, (drawing,))


def _rise_rows(made: Shot, of_rise: str) -> tuple[Row, ...]:
    if made.free_rise is None or made.packing is None or made.free_rise_cm3 is None:
        return ()
    packing = f"{_kg_m3(made.molded)} molded ÷ {_kg_m3(made.free_rise)} free rise"
    risen = f"{made.part_g:.1f} g ÷ {plain(made.free_rise, 4)} g/cm³; the cavity has {plain(made.cavity_cm3, 6)} cm³"
    return (
        Row("Free-rise density", _kg_m3(made.free_rise), of_rise),
        Row("Packing factor", plain(made.packing, 3), packing),
        Row("Left alone it would rise to", f"{made.free_rise_cm3:.0f} cm³", risen),
    )


def _warnings(values: Values, made: Shot, liquid: float) -> tuple[str, ...]:
    said = warnings_of(
        made,
        FoamSort(values["sort"]),
        low=values["packing-low"],
        high=values["packing-high"],
        minimum_fill_g=values["minimum-fill"],
    )
    cup = values["cup"]
    if cup is not None and made.liquid_cm3(liquid) > FULLEST * cup:
        said += (
            f"{made.liquid_cm3(liquid):.0f} cm³ of liquid fill a cup of {cup:.0f} cm³ to more than four fifths: it "
            "cannot be stirred without spilling, and it begins to rise while you stir. Take a larger cup.",
        )
    return said


def _mixed_rule(made: Shot) -> str:
    if made.loss_percent == 0:
        return f"{made.part_g:.1f} g in the mold, nothing lost"
    return f"{made.part_g:.1f} g in the mold ÷ (1 − {plain(made.loss_percent, 3)}/100) for cup and tools"


def _of_material(material: Material) -> Mapping[str, str]:
    foam = material.foam
    known = {
        "ratio": ratio_text(material),
        "liquid": f"{material.density:g} g/cm3" if material.density else None,
    }
    if foam is not None:
        known |= {
            "free-rise": f"{foam.free_rise_density * 1000:g} kg/m3" if foam.free_rise_density else None,
            "expansion": f"{foam.expansion:g}" if foam.expansion else None,
            "packing-low": f"{foam.packing_low:g}" if foam.packing_low else None,
            "packing-high": f"{foam.packing_high:g}" if foam.packing_high else None,
        }
    return {key: text for key, text in known.items() if text is not None}


FOAM = Worksheet(
    "foam",
    "Shot of foam",
    "How much foam do I mix for this cavity, and will it fill or burst it?",
    FIELDS,
    work,
    _of_material,
)
WORKSHEETS: tuple[Worksheet, ...] = (FOAM, FOAM_PARTS)
