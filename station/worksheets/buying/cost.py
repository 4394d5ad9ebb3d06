"""Worksheet of cost: of one cast, and of a good part."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.cost import good_share, of_cast, of_good_part, taken_from
from station.core.material import Material
from station.errors import Refused
from station.worksheets.buying.lines import money, offer_lines, offers, parts
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.ratio_drawing import bars


def _work(values: Values) -> Worked:
    masses, kits = parts(values["masses"]), offers(values["kits"])
    if not kits:
        raise Refused("No kit is on offer.", "Write one a line, with its price.")
    taken = taken_from(kits, masses)
    cost = of_cast(
        sum(one.cost for one in taken),
        mold_price=values["mold"] or 0,
        mold_lasts=values["lasts"],
        consumables=values["consumables"] or 0,
    )
    share = good_share(values["good"], values["casts"])
    part = of_good_part(cost.whole, share)
    mold = f"{money(values['mold'] or 0)} ÷ {values['lasts']} casts"
    rows = (
        Row("A good part", money(part), f"{money(cost.whole)} a cast ÷ {share:.2f} good"),
        Row("One cast", money(cost.whole), "material + mold + consumables"),
        Row(
            "Material",
            money(cost.material),
            " + ".join(f"{100 * one.share:.3g} % of {one.title} at {money(one.price)}" for one in taken),
        ),
        Row("Share of the mold", money(cost.mold), mold),
        Row("Cups, sticks, gloves", money(cost.consumables)),
        Row(
            "Good of all",
            f"{100 * share:.0f} %",
            f"({values['good']} good + 1) ÷ ({values['casts']} casts + 2): Laplace's rule: a few casts prove little",
        ),
    )
    made = {"material": cost.material, "mold": cost.mold, "consumables": cost.consumables}
    drawings = (
        (bars("What a cast costs", (("in hundredths", {k: v for k, v in made.items() if v > 0}),)),)
        if cost.whole
        else ()
    )
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
            "Kits are counted as used up over many casts; what goes off in an opened can comes on top.",
            "Your hours are not in it: they are yours to price.",
        ),
        drawings=drawings,
    )


def _of_material(material: Material) -> Mapping[str, str]:
    return {"kits": offer_lines(material)}


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "cost",
        "Cost of a part",
        "What does a cast cost, and what a good part?",
        (
            Field(
                "masses",
                "Weighed for one cast",
                Kind.LINES,
                hint="One component a line, what is lost included: A 100 g.",
            ),
            Field("kits", "Kits it comes from", Kind.LINES, hint="One a line: small pair: A 1 kg, B 600 g, 34.00."),
            Field("mold", "The mold cost", Kind.MONEY, optional=True),
            Field("lasts", "and lasts for casts", Kind.COUNT, "30"),
            Field("consumables", "Cups, sticks, gloves a cast", Kind.MONEY, optional=True),
            Field("good", "Good parts so far", Kind.COUNT, "0"),
            Field("casts", "of casts so far", Kind.COUNT, "0"),
        ),
        _work,
        _of_material,
    ),
)
