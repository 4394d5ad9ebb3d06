"""Worksheet: what weighed foam parts teach of the loss, the molded density and the least mass that fills a mold."""

from __future__ import annotations

from station.casting.foam import WeighedPart, learned
from station.errors import Refused
from station.quantities import grams
from station.texts import N_, number, t, tc, tn
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import cells_of
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """Mean, count and spread over the casts of one mold. Raises Refused for a line that is no cast."""
    cavity = values["cavity"]
    parts = tuple(_part(line, cavity) for line in values["parts"])
    found = learned(parts)
    spread = "" if found.loss_spread is None else f" ± {number(found.loss_spread, '.1f')} %"
    wide = "" if found.molded_spread is None else f" ± {found.molded_spread * 1000:.0f} kg/m³"
    of_loss = tn("mean of 1 − part ÷ mix, {n} cast", "mean of 1 − part ÷ mix, {n} casts", found.count)
    of_density = tn(
        "mean of part ÷ {cavity} cm³, {n} cast",
        "mean of part ÷ {cavity} cm³, {n} casts",
        found.count,
        cavity=plain(cavity, 6),
    )
    rows = [
        Row(t("Loss in cup and tools"), f"{number(found.loss_percent, '.1f')} %{spread}", of_loss),
        Row(t("Molded density"), f"{found.molded * 1000:.0f} kg/m³{wide}", of_density),
    ]
    least = None if found.minimum_fill is None else found.minimum_fill * cavity
    warnings: tuple[str, ...] = ()
    filled = f"cavity={plain(cavity, 6)}&loss={found.loss_percent:.1f}"
    if least is None:
        warnings = (t("None of these parts was full: mix more before you count on a density."),)
    else:
        rows.append(
            Row(t("Least mass that filled it"), f"{number(least, '.1f')} g", t("the lightest of the full parts"))
        )
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
        (t("± is the sample standard deviation of the casts. Below some ten casts it is a guess."),),
        tables=(
            Table(
                t("Casts"),
                (t("mixed"), t("part"), t("loss"), t("density"), ""),
                tuple(_cells(part) for part in parts),
            ),
        ),
        onward={f"/work/foam?{filled}": t("Shot with these")},
    )


def _part(line: str, cavity: float) -> WeighedPart:
    """ "mixed, part" or "mixed, part, short"; the last in English or in the station's language."""
    cells = cells_of(line)
    short, full = {"short", _short().lower()}, {"full", _full().lower()}
    if len(cells) not in (2, 3) or (len(cells) == 3 and cells[2].lower() not in short | full):
        raise Refused(
            t("{line} is not a cast.", line=repr(line)),
            t('Write mix and part, such as "64.7 g, 60.9 g", and "short" where it was.'),
        )
    return WeighedPart(grams(cells[0], bare="g"), grams(cells[1], bare="g"), cavity, cells[-1].lower() not in short)


def _short() -> str:
    return tc("a part that did not fill its mold", "short")


def _full() -> str:
    return tc("a part that filled its mold", "full")


def _cells(part: WeighedPart) -> tuple[str, ...]:
    return (
        f"{number(part.mixed_g, '.1f')} g",
        f"{number(part.part_g, '.1f')} g",
        f"{number(100 * (1 - part.part_g / part.mixed_g), '.1f')} %",
        f"{1000 * part.part_g / part.cavity_cm3:.0f} kg/m³",
        _full() if part.full else _short(),
    )


FOAM_PARTS = Worksheet(
    "foam-parts",
    N_("What my foam parts teach"),
    N_("What is my loss, my molded density, and the least that fills this mold?"),
    (
        Field(
            "cavity", N_("Volume of the cavity"), Kind.VOLUME, hint=N_("Of the mold that all these parts came from.")
        ),
        Field(
            "parts",
            N_("Casts"),
            Kind.LINES,
            hint=N_(
                "One a line: mass mixed, mass of the part, and “short” where it did not fill, such as 64.7 g, 60.9 g."
            ),
        ),
    ),
    work,
)
