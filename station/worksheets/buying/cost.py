"""Worksheet of cost: of one cast, and of a good part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from station.casting.cost import KitShare, good_share, of_cast, of_good_part, taken_from
from station.core.material import Material
from station.errors import Refused
from station.texts import N_, number, t
from station.worksheets.buying.lines import money, offer_lines, offers, parts
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.ratio_drawing import bars


def _work(values: Values) -> Worked:
    masses, kits = parts(values["masses"]), offers(values["kits"])
    if not kits:
        raise Refused(t("No kit is on offer."), t("Write one a line, with its price."))
    taken = taken_from(kits, masses)
    cost = of_cast(
        sum(one.cost for one in taken),
        mold_price=values["mold"] or 0,
        mold_lasts=values["lasts"],
        consumables=values["consumables"] or 0,
    )
    share = good_share(values["good"], values["casts"])
    part = of_good_part(cost.whole, share)
    mold = t("{price} ÷ {lasts} casts", price=money(values["mold"] or 0), lasts=values["lasts"])
    rows = (
        Row(
            t("A good part"),
            money(part),
            t("{cast} a cast ÷ {share} good", cast=money(cost.whole), share=number(share, ".2f")),
        ),
        Row(t("One cast"), money(cost.whole), t("material + mold + consumables")),
        Row(t("Material"), money(cost.material), _material_rule(taken)),
        Row(t("Share of the mold"), money(cost.mold), mold),
        Row(t("Cups, sticks, gloves"), money(cost.consumables)),
        Row(
            t("Good of all"),
            f"{100 * share:.0f} %",
            t(
                "({good} good + 1) ÷ ({casts} casts + 2): Laplace's rule: a few casts prove little",
                good=values["good"],
                casts=values["casts"],
            ),
        ),
    )
    made = {t("material"): cost.material, t("mold"): cost.mold, t("consumables"): cost.consumables}
    parted = ((t("in hundredths"), {name: price for name, price in made.items() if price > 0}),)
    return Worked(
        rows,
        {
            "good_part_hundredths": part,
            "cast_hundredths": cost.whole,
            "material_hundredths": cost.material,
            "mold_hundredths": cost.mold,
            "good_share": share,
        },
        notes=(
            t("Kits are counted as used up over many casts; what goes off in an opened can comes on top."),
            t("Your hours are not in it: they are yours to price."),
        ),
        drawings=(bars(t("What a cast costs"), parted),) if cost.whole else (),
    )


def _material_rule(taken: Iterable[KitShare]) -> str:
    return " + ".join(
        t(
            "{percent} % of {kit} at {price}",
            percent=number(100 * one.share, ".3g"),
            kit=one.title,
            price=money(one.price),
        )
        for one in taken
    )


def _of_material(material: Material) -> Mapping[str, str]:
    return {"kits": offer_lines(material)}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "cost",
        N_("Cost of a part"),
        N_("What does a cast cost, and what a good part?"),
        (
            Field(
                "masses",
                N_("Weighed for one cast"),
                Kind.LINES,
                hint=N_("One component a line, what is lost included: A 100 g."),
            ),
            Field(
                "kits",
                N_("Kits it comes from"),
                Kind.LINES,
                hint=N_("One a line: small pair: A 1 kg, B 600 g, 34.00."),
            ),
            Field("mold", N_("The mold cost"), Kind.MONEY, optional=True),
            Field("lasts", N_("and lasts for casts"), Kind.COUNT, "30"),
            Field("consumables", N_("Cups, sticks, gloves a cast"), Kind.MONEY, optional=True),
            Field("good", N_("Good parts so far"), Kind.COUNT, "0"),
            Field("casts", N_("of casts so far"), Kind.COUNT, "0"),
        ),
        _work,
        _of_material,
    ),
)
