"""Worksheet of equivalents: guidance for those whose sheet gives NCO % and OH number."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting import stoichiometry as st
from station.core.material import Material
from station.drawing.marks import Drawing
from station.drawing.plot import Axis, Curve, Point, plot
from station.errors import Refused
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain

NOTES = (
    "Guidance, no recipe: the sheet's ratio comes first. Use the numbers of your lot's certificate, not the middle of "
    "the sheet's range.",
    "Nobody can say from the index alone how hard the part will be: log it and compare.",
)
CAUTIONS = (
    "Isocyanates sensitise by breath and skin. Never mend a tacky part with more isocyanate.",
    "A can that got wet makes gas: do not close it tightly; do not move or open a bulging one.",
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
            "Isocyanate side",
            f"{need:.2f} g",
            f"{values['index']:g}/100 × {weight_a:.2f} g/eq × {equivalents:.5g} eq in {values['polyol']:g} g of polyol",
        ),
        Row("Equivalent weight of the isocyanate", f"{weight_a:.2f} g/eq", f"4202 ÷ {values['nco']:g} % NCO"),
        Row(
            "Equivalent weight of the polyol",
            f"{weight_b:.2f} g/eq",
            f"56100 ÷ {values['oh'] + (values['acid'] or 0):g} mg KOH/g",
        ),
        Row("Index that comes of it", f"{really:.1f}", _index_rule(weighed, weight_a, takers)),
        *_error_rows(really, values["error"]),
        Row(
            "Gas from the water",
            f"{plain(gas, 2)} litres" if wet else "none",
            f"{plain(wet, 3)} g ÷ 18.015 g/mol of water, as many moles of gas at 23 °C" if wet else "no water counted",
        ),
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
        moles = f"{values['can-water']:g} g ÷ 18.015 g/mol of gas in {values['can-room']:g} cm³ at {values['can']:g} °C"
        rows.append(Row("Pressure in the closed can", f"{plain(can, 3)} kPa more", f"{moles}, as an ideal gas"))
    return Worked(tuple(rows), figures, (), NOTES, CAUTIONS, (_curve(polyol, weighed, weight_a, wet),))


def _water_percent(percent: float) -> float:
    if not 0 <= percent <= 20:
        raise Refused(f"{percent:g} % of water is no trace of it.", "Type 0 to 20 %, such as 0.05 %.")
    return percent


def _index_rule(weighed: float, weight: float, takers: tuple[st.Taker, ...]) -> str:
    polyol, water = takers
    of_water = f" + {water.equivalents:.4g} eq of water" if water.mass_g else ""
    return f"100 × {plain(weighed, 4)} g ÷ {weight:.2f} g/eq ÷ ({polyol.equivalents:.5g} eq of polyol{of_water})"


def _error_rows(index: float, error: float) -> tuple[Row, ...]:
    if not 0 <= error <= 50:
        raise Refused(f"A weighing error of {error:g} % is none.", "Type 0 to 50 %, such as 2 %.")
    much = st.index_after(index, isocyanate_error_percent=error)
    little = st.index_after(index, polyol_error_percent=error)
    return (
        Row(f"{error:g} % too much isocyanate", f"index {much:.1f}", f"{index:.1f} × {1 + error / 100:g}"),
        Row(f"{error:g} % too much polyol", f"index {little:.1f}", f"{index:.1f} ÷ {1 + error / 100:g}"),
    )


def _can(water: float | None, room: float | None, celsius: float) -> float | None:
    if water is None and room is None:
        return None
    if water is None or room is None or not -50 <= celsius <= 100:
        raise Refused(
            "The pressure in a can needs the water in it, the room above the liquid, and -50 to 100 °C.",
            "Fill in these, or leave water and room empty.",
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
        "What water does to the index",
        f"The index falls from {high:.1f} without water to {low:.1f} at {most:.2g} % of water in the polyol.",
        Axis("water in the polyol, %", 0, most),
        Axis("index", low - 0.1 * (high - low), high + 0.1 * (high - low)),
        (Curve(points),),
        points=(Point(own, index(own), f"{index(own):.1f}"),),
    )


def _of_material(material: Material) -> Mapping[str, str]:
    known: dict[str, str] = {}
    for component in material.components:
        if component.nco_percent is not None:
            known["nco"] = f"{component.nco_percent:g}"
        if component.oh_number is not None:
            known["oh"] = plain(component.oh_number)
    return known


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "equivalents",
        "Equivalents and index",
        "What ratio do NCO % and OH number ask for, and what does a little water do to it?",
        (
            Field("nco", "NCO of the isocyanate side", Kind.PERCENT, hint="On its certificate."),
            Field("oh", "OH number of the polyol side", Kind.NUMBER, hint="mg KOH/g, on its certificate."),
            Field("acid", "Acid number of the polyol side", Kind.NUMBER, optional=True, hint="mg KOH/g."),
            Field("polyol", "Polyol side", Kind.MASS, "100 g", pan=True),
            Field("index", "Index", Kind.NUMBER, "105", hint="100: as much isocyanate as there is to take it."),
            Field(
                "isocyanate",
                "Isocyanate really weighed",
                Kind.MASS,
                optional=True,
                hint="To see the index that it gives; empty: as reckoned here.",
                pan=True,
            ),
            Field("water", "Water in the polyol", Kind.PERCENT, "0 %", hint="By its certificate; damp air adds to it."),
            Field("count-water", "Weigh the isocyanate for this water as well", Kind.YES),
            Field("error", "Weighing error to look at", Kind.PERCENT, "2 %"),
            Field("can-water", "Water that got into a closed can", Kind.MASS, optional=True, hint="Of isocyanate."),
            Field("can-room", "Room above the liquid in that can", Kind.VOLUME, optional=True),
            Field("can", "Temperature of that can", Kind.TEMPERATURE, "23 °C"),
        ),
        work,
        _of_material,
    ),
)
