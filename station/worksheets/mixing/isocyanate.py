"""Worksheet of equivalents: guidance for those whose sheet gives NCO % and OH number."""

from __future__ import annotations

from station.casting import stoichiometry as st
from station.drawing.marks import Drawing
from station.drawing.plot import Axis, Curve, Point, plot
from station.errors import Refused
from station.texts import N_, number, t, tc
from station.worksheets.form import Figure, Row, Values, Worked, Worksheet
from station.worksheets.mixing.isocyanate_fields import FIELDS, of_material
from station.worksheets.plain import plain

NOTES = (
    N_(
        "Guidance, no recipe: the sheet's ratio comes first. Use the numbers of your lot's certificate, not the middle "
        "of the sheet's range."
    ),
    N_("Nobody can say from the index alone how hard the part will be: log it and compare."),
)
CAUTIONS = (
    N_("Isocyanates sensitise by breath and skin. Never mend a tacky part with more isocyanate."),
    N_("A can that got wet makes gas: do not close it tightly; do not move or open a bulging one."),
)


def work(values: Values) -> Worked:
    """Masses and index. Raises Refused for numbers that no sheet has."""
    weight_a = st.isocyanate_weight(values["nco"])
    weight_b = st.polyol_weight(values["oh"], values["acid"] or 0.0)
    percent, polyol = _water_percent(values["water"]), st.Taker(values["polyol"], weight_b)
    wet = percent / 100 * values["polyol"]
    takers = (polyol, st.Taker(wet, st.water_weight()))
    counted = takers if values["count-water"] else takers[:1]
    need = st.isocyanate_needed(counted, weight_a, values["index"])
    weighed = need if values["isocyanate"] is None else values["isocyanate"]
    really = st.index_of(weighed, weight_a, takers)
    gas = st.gas_litres(wet)
    equivalents = sum(taker.equivalents for taker in counted)
    rows = [
        Row(
            t("Isocyanate side"),
            f"{number(need, '.2f')} g",
            t(
                "{index}/100 × {weight} g/eq × {equivalents} eq in {polyol} g of polyol",
                index=number(values["index"]),
                weight=number(weight_a, ".2f"),
                equivalents=number(equivalents, ".5g"),
                polyol=number(values["polyol"]),
            ),
        ),
        Row(
            t("Equivalent weight of the isocyanate"),
            f"{number(weight_a, '.2f')} g/eq",
            f"4202 ÷ {number(values['nco'])} % NCO",
        ),
        Row(
            t("Equivalent weight of the polyol"),
            f"{number(weight_b, '.2f')} g/eq",
            f"56100 ÷ {number(values['oh'] + (values['acid'] or 0))} mg KOH/g",
        ),
        Row(t("Index that comes of it"), number(really, ".1f"), _index_rule(weighed, weight_a, takers)),
        *_error_rows(really, values["error"]),
        _gas_row(gas, wet),
    ]
    figures: dict[str, Figure] = {
        "isocyanate_g": need,
        "isocyanate_g_eq": weight_a,
        "polyol_g_eq": weight_b,
        "index": really,
        "water_g": wet,
        "gas_litres": gas,
    }
    can = _can(values["can-water"], values["can-room"], values["can"])
    if can is not None:
        figures["can_rise_kpa"] = can
        moles = t(
            "{water} g ÷ {molar} g/mol of gas in {room} cm³ at {celsius} °C, as an ideal gas",
            water=number(values["can-water"]),
            molar=number(st.WATER_G_MOL, ".3f"),
            room=number(values["can-room"]),
            celsius=number(values["can"]),
        )
        rows.append(Row(t("Pressure in the closed can"), t("{can} kPa more", can=plain(can, 3)), moles))
    notes, cautions = (tuple(t(said) for said in some) for some in (NOTES, CAUTIONS))
    return Worked(tuple(rows), figures, (), notes, cautions, (_curve(polyol, weighed, weight_a, wet),))


def _gas_row(litres: float, wet_g: float) -> Row:
    if not wet_g:
        return Row(t("Gas from the water"), tc("no gas at all", "none"), t("no water counted"))
    rule = t(
        "{water} g ÷ {molar} g/mol of water, as many moles of gas at 23 °C",
        water=plain(wet_g, 3),
        molar=number(st.WATER_G_MOL, ".3f"),
    )
    return Row(t("Gas from the water"), t("{gas} litres", gas=plain(litres, 2)), rule)


def _water_percent(percent: float) -> float:
    if not 0 <= percent <= 20:
        raise Refused(
            t("{percent} % of water is no trace of it.", percent=number(percent)),
            t("Type 0 to 20 %, such as 0.05 %."),
        )
    return percent


def _index_rule(weighed: float, weight: float, takers: tuple[st.Taker, ...]) -> str:
    polyol, water = takers
    said = {"weighed": plain(weighed, 4), "weight": number(weight, ".2f"), "polyol": number(polyol.equivalents, ".5g")}
    if not water.mass_g:
        return t("100 × {weighed} g ÷ {weight} g/eq ÷ ({polyol} eq of polyol)", **said)
    return t(
        "100 × {weighed} g ÷ {weight} g/eq ÷ ({polyol} eq of polyol + {water} eq of water)",
        **said,
        water=number(water.equivalents, ".4g"),
    )


def _error_rows(index: float, error: float) -> tuple[Row, ...]:
    if not 0 <= error <= 50:
        raise Refused(
            t("A weighing error of {error} % is none.", error=number(error)), t("Type 0 to 50 %, such as 2 %.")
        )
    much = st.index_after(index, isocyanate_error_percent=error)
    little = st.index_after(index, polyol_error_percent=error)
    return (
        Row(
            t("{error} % too much isocyanate", error=number(error)),
            t("index {index}", index=number(much, ".1f")),
            f"{number(index, '.1f')} × {number(1 + error / 100)}",
        ),
        Row(
            t("{error} % too much polyol", error=number(error)),
            t("index {index}", index=number(little, ".1f")),
            f"{number(index, '.1f')} ÷ {number(1 + error / 100)}",
        ),
    )


def _can(water: float | None, room: float | None, celsius: float) -> float | None:
    if water is None and room is None:
        return None
    if water is None or room is None or not -50 <= celsius <= 100:
        raise Refused(
            t("The pressure in a can needs the water in it, the room above the liquid, and -50 to 100 °C."),
            t("Fill in these, or leave water and room empty."),
        )
    return st.can_pressure_kpa(water, room, celsius)


def _curve(polyol: st.Taker, isocyanate_g: float, weight: float, wet_g: float) -> Drawing:
    """Index against water in the polyol."""
    most = 0.2 if wet_g == 0 else max(0.2, 2 * 100 * wet_g / polyol.mass_g)

    def index(percent: float) -> float:
        water = st.Taker(percent / 100 * polyol.mass_g, st.water_weight())
        return st.index_of(isocyanate_g, weight, (polyol, water))

    points = tuple((most * i / 40, index(most * i / 40)) for i in range(41))
    own = 100 * wet_g / polyol.mass_g
    low, high = points[-1][1], points[0][1]
    return plot(
        t("What water does to the index"),
        t(
            "The index falls from {high} without water to {low} at {most} % of water in the polyol.",
            high=number(high, ".1f"),
            low=number(low, ".1f"),
            most=number(most, ".2g"),
        ),
        Axis(t("water in the polyol, %"), 0, most),
        Axis(t("index"), low - 0.1 * (high - low), high + 0.1 * (high - low)),
        (Curve(points),),
        points=(Point(own, index(own), number(index(own), ".1f")),),
    )


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "equivalents",
        N_("Equivalents and index"),
        N_("What ratio do NCO % and OH number ask for, and what does a little water do to it?"),
        FIELDS,
        work,
        of_material,
    ),
)
