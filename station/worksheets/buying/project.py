"""Worksheet of a project: what to buy for molds, trials and parts, what it costs, and when it is done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from station.casting.project import by_component, checklist, need
from station.casting.purchase import Purchase, cheapest
from station.casting.ratio import weight_shares
from station.casting.schedule import MoldLoad, schedule
from station.core.material import Material
from station.texts import N_, t, tc
from station.worksheets.buying.lines import bought_rows, money, offer_lines, offers
from station.worksheets.buying.schedule import shown
from station.worksheets.buying.working import hours, minutes, starting
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import parts_of, ratio_text


@dataclass(frozen=True, slots=True)
class _Use:
    """What a material is for, in the words of its row, its table and its warning."""

    row: str
    table: str
    unpriced: str


_MOLDING = _Use(
    N_("Material to mold"),
    N_("To buy for what you mold"),
    N_("No kits to mold with are given: that material is not in the price."),
)
_CASTING = _Use(
    N_("Material to cast"),
    N_("To buy for what you cast"),
    N_("No kits to cast with are given: that material is not in the price."),
)


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
        rows.append(Row(t(what.row), f"{grams:.0f} g", ", ".join(f"{n} {g:.0f} g" for n, g in each.items())))
        if not kits:
            unpriced.append(what)
        else:
            on_offer = offers(kits)
            bought: Purchase = cheapest(on_offer, each)
            price += bought.price
            tables.append(
                Table(
                    t(what.table),
                    (
                        tc("a column of a shopping list", "what"),
                        tc("a column of a shopping list", "how much"),
                        tc("a column of a shopping list", "of it"),
                    ),
                    tuple((row.label, row.value, row.rule) for row in bought_rows(bought, on_offer)),
                )
            )
    rows = [
        *_price_rows(price, len(tables), values["parts"]),
        Row(
            t("Casts"),
            str(found.casts),
            t(
                "{parts} parts + {trials} trials × {molds} molds",
                parts=values["parts"],
                trials=values["trials"],
                molds=values["molds"],
            ),
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
        warnings=tuple(t(what.unpriced) for what in unpriced),
        notes=(t("Trials are counted for each mold: each one is learned anew."), *laid.notes),
        cautions=checklist(isocyanate=values["isocyanate"], silicone=found.mold_g > 0),
        drawings=laid.drawings,
        tables=(*tables, *laid.tables),
    )


def _price_rows(price: int, priced: int, parts: int) -> list[Row]:
    """What it costs; nothing while no kit is on offer."""
    if not priced:
        return []
    rows = [Row(t("To pay"), money(price), t("the cheapest sets of kits, each proved"))]
    if parts:
        rule = t("{price} ÷ {parts} parts, trials and left-over kits included", price=money(price), parts=parts)
        rows.append(Row(t("Material a part"), money(price / parts), rule))
    return rows


def _laid_out(values: Values, casts: int) -> Worked:
    molds = values["molds"]
    share, rest = divmod(casts, molds)
    loads = [
        MoldLoad(t("mold {n}", n=n + 1), share + (n < rest), minutes(values["handling"]), minutes(values["demold"]))
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
        N_("Whole project"),
        N_("Molds, trials and parts: what do I buy, what does it cost, and when is it done?"),
        (
            Field("molds", N_("Molds"), Kind.COUNT, "1"),
            Field("mold-mass", N_("Mold material a mold"), Kind.MASS, "0 g", hint=N_("From the mold box worksheet.")),
            Field("mold-ratio", N_("Its ratio by weight"), Kind.TEXT, "10:1"),
            Field(
                "mold-kits",
                N_("Kits of it"),
                Kind.LINES,
                optional=True,
                hint=N_("One a line: small pair: A 1 kg, B 100 g, 38.00."),
            ),
            Field("parts", N_("Parts wanted"), Kind.COUNT),
            Field(
                "trials",
                N_("Trial casts a mold"),
                Kind.COUNT,
                "3",
                hint=N_("Until the first good one; three is common practice."),
            ),
            Field("cast-mass", N_("Mix a cast"), Kind.MASS, hint=N_("What stays in the cup included.")),
            Field("ratio", N_("Its ratio by weight"), Kind.TEXT),
            Field("kits", N_("Kits of it on offer"), Kind.LINES, optional=True),
            Field("margin", N_("Margin on the material"), Kind.PERCENT, "10 %"),
            Field("handling", N_("Work a cast"), Kind.TIME, "25 min"),
            Field("demold", N_("Demold after"), Kind.TIME, "4 h", bare="h"),
            Field("first", N_("First day"), Kind.DATE, hint=N_("On which the work begins, such as 2026-03-02.")),
            Field("delivery", N_("Material comes after days"), Kind.NUMBER, "5"),
            Field("mold-days", N_("Molds are ready days later"), Kind.NUMBER, "2"),
            Field("hours", N_("Working hours"), Kind.TEXT, "9:00-17:00"),
            Field("days", N_("Working days"), Kind.TEXT, "Mo-Fr"),
            Field("isocyanate", N_("It is a urethane"), Kind.YES),
        ),
        _work,
        _of_material,
    ),
)
