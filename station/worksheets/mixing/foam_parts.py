"""Worksheet: what weighed foam parts teach of the loss, the molded density and the least mass that fills a mold."""

from __future__ import annotations

from station.casting.foam import WeighedPart, learned
from station.errors import Refused
from station.quantities import grams
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import cells_of
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """Mean, count and spread over the casts of one mold. Raises Refused for a line that is no cast."""
    cavity = values["cavity"]
    parts = tuple(_part(line, cavity) for line in values["parts"])
    found = learned(parts)
    spread = "" if found.loss_spread is None else f" ± {found.loss_spread:.1f} %"
    wide = "" if found.molded_spread is None else f" ± {found.molded_spread * 1000:.0f} kg/m³"
    casts = f"{found.count} cast{'s' * (found.count > 1)}"
    rows = [
        Row("Loss in cup and tools", f"{found.loss_percent:.1f} %{spread}", f"mean of 1 − part ÷ mix, {casts}"),
        Row(
            "Molded density",
            f"{found.molded * 1000:.0f} kg/m³{wide}",
            f"mean of part ÷ {plain(cavity, 6)} cm³, {casts}",
        ),
    ]
    least = None if found.minimum_fill is None else found.minimum_fill * cavity
    warnings: tuple[str, ...] = ()
    filled = f"cavity={plain(cavity, 6)}&loss={found.loss_percent:.1f}"
    if least is None:
        warnings = ("None of these parts was full: mix more before you count on a density.",)
    else:
        rows.append(Row("Least mass that filled it", f"{least:.1f} g", "the lightest of the full parts"))
        filled += f"&minimum-fill={least:.1f}"
    return Worked(
        tuple(rows),
        {
            "count": found.count,
            "loss_percent": found.loss_percent,
            "loss_spread_percent": found.loss_spread,
            "molded_g_cm3": found.molded,
            "molded_spread_g_cm3": found.molded_spread,
            "minimum_fill_g": least,
        },
        warnings,
        ("± is the sample standard deviation of the casts. Below some ten casts it is a guess.",),
        tables=(Table("Casts", ("mixed", "part", "loss", "density", ""), tuple(_cells(part) for part in parts)),),
        onward={f"/work/foam?{filled}": "Shot with these"},
    )


def _part(line: str, cavity: float) -> WeighedPart:
    """ "mixed, part" or "mixed, part, short"."""
    cells = cells_of(line)
    if len(cells) not in (2, 3) or (len(cells) == 3 and cells[2].lower() not in ("short", "full")):
        raise Refused(
            f"{line!r} is not a cast.", 'Write mix and part, such as "64.7 g, 60.9 g", and "short" where it was.'
        )
    return WeighedPart(grams(cells[0], bare="g"), grams(cells[1], bare="g"), cavity, cells[-1].lower() != "short")


def _cells(part: WeighedPart) -> tuple[str, ...]:
    return (
        f"{part.mixed_g:.1f} g",
        f"{part.part_g:.1f} g",
        f"{100 * (1 - part.part_g / part.mixed_g):.1f} %",
        f"{1000 * part.part_g / part.cavity_cm3:.0f} kg/m³",
        "full" if part.full else "short",
    )


FOAM_PARTS = Worksheet(
    "foam-parts",
    "What my foam parts teach",
    "What is my loss, my molded density, and the least that fills this mold?",
    (
        Field("cavity", "Volume of the cavity", Kind.VOLUME, hint="Of the mold that all these parts came from."),
        Field(
            "parts",
            "Casts",
            Kind.LINES,
            hint="One a line: mass mixed, mass of the part, and “short” where it did not fill, such as 64.7 g, 60.9 g.",
        ),
    ),
    work,
)
