"""Worksheet of buying: the cheapest kits that cover a need, and when to order again."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.purchase import cheapest, reorder_at_g
from station.core.material import Material
from station.worksheets.buying.lines import bought_rows, money, offer_lines, offers, parts
from station.worksheets.buying.purchase_drawing import covered
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind


def _work(values: Values) -> Worked:
    need, have, kits = parts(values["need"]), parts(values["stock"]), offers(values["kits"])
    missing = {name: max(0.0, grams - have.get(name, 0.0)) for name, grams in need.items()}
    bought = cheapest(kits, missing)
    # The same for every set of kits, so that it does not change which one is the cheapest.
    shipping = (values["shipping"] or 0) if bought.counts else 0
    short = {name: grams for name, grams in missing.items() if grams > 0}
    rows = [
        Row(
            "To pay",
            money(bought.price + shipping),
            "the least of all combinations of these kits, proved by an integer programme"
            + (f", and {money(shipping)} of shipping" if shipping else ""),
        ),
        *bought_rows(bought, kits),
        *(
            Row(f"Needed of {name}", f"{grams:.0f} g", f"{need[name]:.0f} g less {have.get(name, 0.0):.0f} g in stock")
            for name, grams in short.items()
        ),
    ]
    notes = ["Price alone: a large can that is opened and spoils before it is used up is the dearer one."]
    figures: dict[str, float | dict[str, float] | dict[str, int]] = {
        "price_hundredths": bought.price + shipping,
        "shipping_hundredths": shipping,
        "counts": dict(bought.counts),
        "surplus_g": dict(bought.surplus_g),
        "missing_g": missing,
    }
    if values["use"] is not None:
        point = reorder_at_g(values["use"], values["delivery"], values["reserve"] or 0.0)
        figures["reorder_at_g"] = point
        rows.append(
            Row(
                "Order again at",
                f"{point:.0f} g left",
                f"{values['use']:g} g a day × {values['delivery']:g} days + {values['reserve'] or 0:g} g in reserve",
            )
        )
    return Worked(tuple(rows), figures, notes=tuple(notes), drawings=(covered(need, have, bought, kits),))


def _of_material(material: Material) -> Mapping[str, str]:
    return {"kits": offer_lines(material)}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "kits",
        "What to buy",
        "Which kits cover what I need for the least money, and when do I order again?",
        (
            Field("need", "Needed", Kind.LINES, hint="One component a line: A 3.4 kg."),
            Field("stock", "In stock", Kind.LINES, optional=True, hint="Likewise."),
            Field(
                "kits",
                "Kits on offer",
                Kind.LINES,
                hint="One a line: small pair: A 1 kg, B 600 g, 34.00. “at most 2” may follow.",
            ),
            Field("shipping", "Shipping of the order", Kind.MONEY, optional=True),
            Field("use", "Used a day", Kind.MASS, optional=True, hint="Of the component that runs out first."),
            Field("delivery", "Delivery takes, in days", Kind.NUMBER, "5"),
            Field("reserve", "Reserve", Kind.MASS, optional=True),
        ),
        _work,
        _of_material,
    ),
)
