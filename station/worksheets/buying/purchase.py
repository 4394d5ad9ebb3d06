"""Worksheet of buying: the cheapest kits that cover a need, and when to order again."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.purchase import cheapest, reorder_at_g
from station.core.material import Material
from station.texts import N_, number, t
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
            t("To pay"),
            money(bought.price + shipping),
            t(
                "the least of all combinations of these kits, proved by an integer programme, and {price} of shipping",
                price=money(shipping),
            )
            if shipping
            else t("the least of all combinations of these kits, proved by an integer programme"),
        ),
        *bought_rows(bought, kits),
        *(
            Row(
                t("Needed of {name}", name=name),
                f"{grams:.0f} g",
                t(
                    "{need} g less {stock} g in stock",
                    need=f"{need[name]:.0f}",
                    stock=f"{have.get(name, 0.0):.0f}",
                ),
            )
            for name, grams in short.items()
        ),
    ]
    note = t("Price alone: a large can that is opened and spoils before it is used up is the dearer one.")
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
                t("Order again at"),
                t("{mass} g left", mass=f"{point:.0f}"),
                t(
                    "{use} g a day × {days} days + {reserve} g in reserve",
                    use=number(values["use"]),
                    days=number(values["delivery"]),
                    reserve=number(values["reserve"] or 0),
                ),
            )
        )
    return Worked(tuple(rows), figures, notes=(note,), drawings=(covered(need, have, bought, kits),))


def _of_material(material: Material) -> Mapping[str, str]:
    return {"kits": offer_lines(material)}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "kits",
        N_("What to buy"),
        N_("Which kits cover what I need for the least money, and when do I order again?"),
        (
            Field("need", N_("Needed"), Kind.LINES, hint=N_("One component a line: A 3.4 kg.")),
            Field("stock", N_("In stock"), Kind.LINES, optional=True, hint=N_("Likewise.")),
            Field(
                "kits",
                N_("Kits on offer"),
                Kind.LINES,
                hint=N_("One a line: small pair: A 1 kg, B 600 g, 34.00. “at most 2” may follow."),
            ),
            Field("shipping", N_("Shipping of the order"), Kind.MONEY, optional=True),
            Field("use", N_("Used a day"), Kind.MASS, optional=True, hint=N_("Of the component that runs out first.")),
            Field("delivery", N_("Delivery takes, in days"), Kind.NUMBER, "5"),
            Field("reserve", N_("Reserve"), Kind.MASS, optional=True),
        ),
        _work,
        _of_material,
    ),
)
