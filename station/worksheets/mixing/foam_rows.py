"""The answer for a shot of foam, line by line, each with its rule."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.foam import Shot
from station.texts import number, t
from station.worksheets.form import Row
from station.worksheets.mixing.foam_density import kg_m3
from station.worksheets.mixing.foam_fields import LIQUID_ASSUMED
from station.worksheets.plain import plain


def shot_rows(
    made: Shot, parts: Mapping[str, float], masses: Mapping[str, float], of_molded: str, of_rise: str
) -> list[Row]:
    """What to mix, what reaches the mold, and its densities; `of_…` say how those come about."""
    return [
        Row(t("Mix in all"), _g(made.mixed_g), _mixed_rule(made)),
        *(
            Row(
                name,
                _g(mass),
                t(
                    "{mass} × {part}/{parts} by weight",
                    mass=_g(made.mixed_g),
                    part=number(parts[name]),
                    parts=plain(sum(parts.values()), 8),
                ),
            )
            for name, mass in masses.items()
        ),
        Row(
            t("In the mold"),
            _g(made.part_g),
            t(
                "{cavity} cm³ × {molded} g/cm³ molded density",
                cavity=plain(made.cavity_cm3, 6),
                molded=plain(made.molded, 4),
            ),
        ),
        Row(t("Molded density"), kg_m3(made.molded), of_molded),
        *_rise_rows(made, of_rise),
    ]


def liquid_row(made: Shot, liquid: float | None) -> Row:
    """How much the cup must hold; `liquid` in g/cm³, None where nobody told it."""
    density = LIQUID_ASSUMED if liquid is None else liquid
    rule = f"{_g(made.mixed_g)} ÷ {number(density)} g/cm³"
    return Row(
        t("Liquid in the cup before it rises"),
        f"{made.liquid_cm3(density):.0f} cm³",
        rule if liquid is not None else with_assumed(rule),
    )


def with_assumed(said: str) -> str:
    """What was worked out without the density of the liquid, and that it was."""
    return t(
        "{said} ({density} g/cm³ assumed: type the density of the liquid)", said=said, density=number(LIQUID_ASSUMED)
    )


def overpack_row(made: Shot, least_g: float) -> Row:
    """How much more is in the mold than just fills it."""
    rule = t("100 × {mass} ÷ {least} g that just fill this mold", mass=_g(made.part_g), least=number(least_g))
    return Row(t("Overpack"), f"{made.overpack_percent(least_g):.0f} %", rule)


def _rise_rows(made: Shot, of_rise: str) -> tuple[Row, ...]:
    if made.free_rise is None or made.packing is None or made.free_rise_cm3 is None:
        return ()
    return (
        Row(t("Free-rise density"), kg_m3(made.free_rise), of_rise),
        Row(
            t("Packing factor"),
            plain(made.packing, 3),
            t("{molded} molded ÷ {free_rise} free rise", molded=kg_m3(made.molded), free_rise=kg_m3(made.free_rise)),
        ),
        Row(
            t("Left alone it would rise to"),
            f"{made.free_rise_cm3:.0f} cm³",
            t(
                "{mass} ÷ {free_rise} g/cm³; the cavity has {cavity} cm³",
                mass=_g(made.part_g),
                free_rise=plain(made.free_rise, 4),
                cavity=plain(made.cavity_cm3, 6),
            ),
        ),
    )


def _mixed_rule(made: Shot) -> str:
    if made.loss_percent == 0:
        return t("{mass} in the mold, nothing lost", mass=_g(made.part_g))
    return t(
        "{mass} in the mold ÷ (1 − {loss}/100) for cup and tools",
        mass=_g(made.part_g),
        loss=plain(made.loss_percent, 3),
    )


def _g(mass: float) -> str:
    return f"{number(mass, '.1f')} g"
