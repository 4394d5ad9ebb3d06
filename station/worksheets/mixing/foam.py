"""Worksheet: the shot of foam for a cavity, whether it fills and whether it presses."""

from __future__ import annotations

from station.casting.foam import Shot, if_multiplied, split
from station.casting.foam_practice import FoamSort, warnings_of
from station.texts import N_, t
from station.worksheets.form import Figure, Values, Worked, Worksheet
from station.worksheets.mixing.foam_density import free_rise_of, made_of
from station.worksheets.mixing.foam_drawing import cup_and_mold
from station.worksheets.mixing.foam_fields import FIELDS, LIQUID_ASSUMED, of_material
from station.worksheets.mixing.foam_parts import FOAM_PARTS
from station.worksheets.mixing.foam_rows import liquid_row, overpack_row, shot_rows, with_assumed
from station.worksheets.mixing.mixes import parts_of

CAUTIONS = (
    N_(
        "Isocyanate: ventilate, gloves, eye protection; a respirator as the safety data sheet says. No smell does not "
        "mean safe."
    ),
    N_(
        "A closed mold of rising foam is under pressure: vents open, lid clamped before it rises, stay clear until "
        "demold."
    ),
    N_("A large mass grows hot inside: mix no more than is poured at once, and never leave a full cup standing."),
)
FULLEST = 0.8
"""A cup filled beyond this part cannot be stirred hard. Common practice, no source."""


def work(values: Values) -> Worked:
    """The shot with its warnings. Raises Refused when the densities are missing or contradict each other."""
    free_rise, of_rise = free_rise_of(values)
    made, of_molded = made_of(values, free_rise)
    parts = parts_of(values["ratio"])
    masses = dict(zip(parts, split(made.mixed_g, tuple(parts.values())), strict=True))
    told, least = values["liquid"], values["minimum-fill"]
    liquid = LIQUID_ASSUMED if told is None else told
    rows = [*shot_rows(made, parts, masses, of_molded, of_rise), liquid_row(made, told)]
    if least is not None:
        rows.append(overpack_row(made, least))
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
        t(
            "Packing factor and overpack are not the same: one counts from free rise, the other from the least mass "
            "that fills your mold. Weigh your parts: they teach the station both."
        ),
        t("Free rise on the sheet is of a large block; a small cup has cold walls and rises less."),
    )
    if free_rise is not None:
        why = if_multiplied(made.cavity_cm3, liquid, values["expansion"] or liquid / free_rise)
        notes = (why if told is not None else with_assumed(why), *notes)
    drawing = cup_and_mold(made, liquid, values["cup"])
    cautions = tuple(t(caution) for caution in CAUTIONS)
    return Worked(tuple(rows), figures, _warnings(values, made, liquid), notes, cautions, (drawing,))


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
            t(
                "{liquid} cm³ of liquid fill a cup of {cup} cm³ to more than four fifths: it cannot be stirred without "
                "spilling, and it begins to rise while you stir. Take a larger cup.",
                liquid=f"{made.liquid_cm3(liquid):.0f}",
                cup=f"{cup:.0f}",
            ),
        )
    return said


FOAM = Worksheet(
    "foam",
    N_("Shot of foam"),
    N_("How much foam do I mix for this cavity, and will it fill or burst it?"),
    FIELDS,
    work,
    of_material,
)
WORKSHEETS: tuple[Worksheet, ...] = (FOAM, FOAM_PARTS)
