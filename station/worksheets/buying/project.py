"""Worksheet of a project: what to buy for molds, trials and parts, what it costs, and when it is done."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.project import by_component, checklist, need
from station.casting.purchase import Purchase, cheapest
from station.casting.ratio import weight_shares
from station.casting.schedule import MoldLoad, schedule
from station.core.material import Material
from station.worksheets.buying.lines import bought_rows, money, offer_lines, offers
from station.worksheets.buying.schedule import shown
from station.worksheets.buying.working import hours, minutes, starting
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import parts_of, ratio_text

_CASTING = "cast"
_MOLDING = "mold"


def _work(values: Values) -> Worked:
    found = need(
        molds=values["molds"],
        mold_g=values["mold-mass"],
        parts=values["parts"],
        trials=values["trials"],
        cast_g=values["cast-mass"],
        margin_percent=values["margin"],
    )
    rows, tables, price, unpriced = [], [], 0, []
    for what, grams, ratio, kits in (
        (_MOLDING, found.mold_g, values["mold-ratio"], values["mold-kits"]),
        (_CASTING, found.cast_g, values["ratio"], values["kits"]),
    ):
        if grams == 0:
            continue
        parts = parts_of(ratio)
        each = by_component(grams, dict(zip(parts, weight_shares(tuple(parts.values())), strict=True)))
        rows.append(Row(f"Material to {what}", f"{grams:.0f} g", ", ".join(f"{n} {g:.0f} g" for n, g in each.items())))
        if not kits:
            unpriced.append(what)
        else:
            on_offer = offers(kits)
            bought: Purchase = cheapest(on_offer, each)
            price += bought.price
            tables.append(
                Table(
                    f"To buy for what you {what}",
                    ("what", "how much", "of it"),
                    tuple((row.label, row.value, row.rule) for row in bought_rows(bought, on_offer)),
                )
            )
    rows = [
        *_price_rows(price, len(tables), values["parts"]),
        Row(
            "Casts", str(found.casts), f"{values['parts']} parts + {values['trials']} trials × {values['molds']} molds"
        ),
        *rows,
    ]
    laid = _laid_out(values, found.casts)
    return Worked(
        (*rows, *laid.rows[:1]),
        {
            "price_hundredths": price if tables else None,
            "cast_count": found.casts,
            "mold_g": found.mold_g,
            "cast_g": found.cast_g,
            **laid.figures,
        },
        warnings=tuple(f"No kits to {what} with are given: that material is not in the price." for what in unpriced),
        notes=("Trials are counted for each mold: each one is learned anew.", *laid.notes),
        cautions=checklist(isocyanate=values["isocyanate"], silicone=found.mold_g > 0),
        drawings=laid.drawings,
        tables=(*tables, *laid.tables),
    )


def _price_rows(price: int, priced: int, parts: int) -> list[Row]:
    """What it costs; nothing while no kit is on offer."""
    if not priced:
        return []
    rows = [Row("To pay", money(price), "the cheapest sets of kits, each proved")]
    if parts:
        rule = f"{money(price)} ÷ {parts} parts, trials and left-over kits included"
        rows.append(Row("Material a part", money(price / parts), rule))
    return rows


def _laid_out(values: Values, casts: int) -> Worked:
    molds = values["molds"]
    share, rest = divmod(casts, molds)
    loads = [
        MoldLoad(f"mold {n + 1}", share + (n < rest), minutes(values["handling"]), minutes(values["demold"]))
        for n in range(molds)
    ]
    at = hours(values["hours"], values["days"])
    wait = starting(values["first"], values["delivery"] + values["mold-days"])
    return shown(schedule(loads, at, values["first"].weekday(), from_min=wait), loads, at, values["first"])


def _of_material(material: Material) -> Mapping[str, str]:
    return {
        "kits": offer_lines(material),
        "ratio": ratio_text(material) or "",
        "isocyanate": "yes" if material.chemistry.isocyanate else "no",
        "demold": f"{material.times.demold_s / 3600:g} h",
    }


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "project",
        "Whole project",
        "Molds, trials and parts: what do I buy, what does it cost, and when is it done?",
        (
            Field("molds", "Molds", Kind.COUNT, "1"),
            Field("mold-mass", "Mold material a mold", Kind.MASS, "0 g", hint="From the mold box worksheet."),
            Field("mold-ratio", "Its ratio by weight", Kind.TEXT, "10:1"),
            Field(
                "mold-kits",
                "Kits of it",
                Kind.LINES,
                optional=True,
                hint="One a line: small pair: A 1 kg, B 100 g, 38.00.",
            ),
            Field("parts", "Parts wanted", Kind.COUNT),
            Field(
                "trials",
                "Trial casts a mold",
                Kind.COUNT,
                "3",
                hint="Until the first good one; three is common practice.",
            ),
            Field("cast-mass", "Mix a cast", Kind.MASS, hint="What stays in the cup included."),
            Field("ratio", "Its ratio by weight", Kind.TEXT),
            Field("kits", "Kits of it on offer", Kind.LINES, optional=True),
            Field("margin", "Margin on the material", Kind.PERCENT, "10 %"),
            Field("handling", "Work a cast", Kind.TIME, "25 min"),
            Field("demold", "Demold after", Kind.TIME, "4 h", bare="h"),
            Field("first", "First day", Kind.DATE, hint="On which the work begins, such as 2026-03-02."),
            Field("delivery", "Material comes after days", Kind.NUMBER, "5"),
            Field("mold-days", "Molds are ready days later", Kind.NUMBER, "2"),
            Field("hours", "Working hours", Kind.TEXT, "9:00-17:00"),
            Field("days", "Working days", Kind.TEXT, "Mo Tu We Th Fr"),
            Field("isocyanate", "It is a urethane", Kind.YES),
        ),
        _work,
        _of_material,
    ),
)
