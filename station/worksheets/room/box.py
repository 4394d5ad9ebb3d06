"""Worksheet of the mold box: from a positive to boards, silicone, both components and what they cost."""

from __future__ import annotations

import re
from collections.abc import Mapping

from station.casting.batch import grown_for_loss
from station.casting.boards import Board, area_cm2, cutting_list, inches, round_box
from station.casting.box_pours import MARGIN, pours, stock_sentence, warnings
from station.casting.cost import best_price_per_g
from station.casting.moldbox import Plan, Spouts, Walls, halves
from station.casting.purchase import KitOffer
from station.casting.ratio import weight_shares
from station.core.material import Material
from station.worksheets.buying.lines import money
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import parts_of, ratio_text
from station.worksheets.plain import plain
from station.worksheets.room.box_drawing import plan_view, section

CAUTIONS = (
    "Sulfur, tin, amines, some clays, latex gloves and uncured prints stop an addition-cure silicone at the surface: "
    "try a dab on each new surface first.",
    "Seal every seam and stand the box level: it leaks until the silicone gels. Pour in a thin stream into one corner.",
    "The safety data sheets of silicone and release agent come first.",
)


def _planned(values: Values) -> Plan:
    return Plan(
        (values["length"], values["width"], values["height"]),
        values["volume"],
        Walls(values["wall"], values["floor"], values["above"]),
        Spouts(values["spouts"], values["spout"]),
        values["overfill"],
    )


def _work(values: Values) -> Worked:
    made = _planned(values)
    mass = made.to_mix * values["density"]
    mixed = grown_for_loss(mass, values["loss"])
    parts = parts_of(values["ratio"])
    each = dict(zip(parts, (mixed * share for share in weight_shares(tuple(parts.values()))), strict=True))
    boards = cutting_list(made.inner, values["boards"], rim=values["rim"])
    lot = pours(mixed, cup_holds_g=values["cup"], scale_most_g=values["maximum"], cup_g=values["cup-empty"] or 0.0)
    rows = [
        Row("Silicone to mix", f"{plain(mixed, 5)} g", _mass_rule(made, values, mass)),
        *(
            Row(name, f"{plain(grams, 5)} g", f"{plain(mixed, 6)} g × {parts[name]:g}/{plain(sum(parts.values()))}")
            for name, grams in each.items()
        ),
        Row("Silicone in the box", f"{plain(made.silicone, 5)} cm³", _silicone_rule(made)),
        Row("Box inside", f"{_mm(made.inner)} mm", _box_rule(made)),
        Row(
            "Fill to",
            f"{plain(made.inner[2], 4)} mm above the floor",
            f"{plain(made.walls.above, 4)} mm over the positive; {inches(made.inner[2])}",
        ),
        Row("Pours", str(lot.count), f"{plain(lot.each_g, 5)} g each. {' '.join(lot.reasons)}"),
    ]
    figures: dict[str, float | list[float] | dict[str, float]] = {
        "box_mm": list(made.inner),
        "box_cm3": made.box,
        "silicone_cm3": made.silicone,
        "to_mix_cm3": made.to_mix,
        "mixed_g": mixed,
        "masses_g": each,
        "pours": lot.count,
        "each_pour_g": lot.each_g,
        "boards_cm2": area_cm2(boards),
    }
    if values["price"] is not None:
        cost = mixed / 1000 * values["price"]
        figures["cost_hundredths"] = cost
        rows.append(Row("Silicone costs", money(cost), f"{mixed / 1000:.3f} kg × {money(values['price'])} a kg"))
    warned = list(warnings(made, undercut=values["undercut"], hardness=values["hardness"]))
    notes = [MARGIN]
    if values["volume"] is None:
        warned.append(
            "The volume of the positive is not known: the silicone is that of the whole box, and some will be left. "
            "Measure it from its mesh or by immersing it."
        )
    if values["stock"] is not None:
        said = stock_sentence(mixed, values["stock"])
        (notes if values["stock"] >= mixed else warned).append(said)
    if values["parting"] is not None:
        two = halves(made, values["parting"], values["below"])
        figures |= {"lower_cm3": two.below, "upper_cm3": two.above}
        how = "the positive shared out by height, an assumption" if two.assumed else "by the volumes given"
        rows += [
            Row("Lower half", f"{plain(two.below, 5)} cm³", f"up to {values['parting']:g} mm of the positive, {how}"),
            Row("Upper half", f"{plain(two.above, 5)} cm³", "the rest of the silicone"),
        ]
        notes.append(
            "Press keys into the lower half and let it cure; brush release on it, or both halves grow together."
        )
    pipe = round_box(made.extents, made.walls.side, made.walls.below, made.walls.above)
    notes.append(
        f"A round box of {pipe.diameter:.0f} mm inside holds {pipe.volume:.0f} cm³ to the same level: "
        + ("less than" if pipe.volume < made.box else "more than")
        + " the square one, and has no corners to leak."
    )
    return Worked(
        tuple(rows),
        figures,
        tuple(warned),
        tuple(notes),
        CAUTIONS,
        (plan_view(made, values["boards"]), section(made, values["boards"], values["rim"], values["parting"])),
        (_table(boards, values["boards"]),),
        {f"/work/kits?need={'%0A'.join(f'{n}+{g:.0f}+g' for n, g in each.items())}": "What to buy for it"},
    )


def _mm(sizes: tuple[float, float, float]) -> str:
    return " × ".join(plain(size, 5) for size in sizes)


def _box_rule(made: Plan) -> str:
    walls = made.walls
    return (
        f"{_mm(made.extents)} mm + 2 × {plain(walls.side)} mm around, + {plain(walls.below)} mm below "
        f"+ {plain(walls.above)} mm above"
    )


def _silicone_rule(made: Plan) -> str:
    known = "" if made.positive is None else f" − {plain(made.positive, 5)} cm³ positive"
    spouts = f" − {plain(made.spout_volume, 3)} cm³ in {made.spouts.count} spouts" if made.spouts.count else ""
    return f"{plain(made.box, 5)} cm³ box{known}{spouts}"


def _mass_rule(made: Plan, values: Values, mass: float) -> str:
    more = f" + {plain(made.overfill_percent)} % margin" if made.overfill_percent else ""
    lost = f", ÷ (1 − {plain(values['loss'])}/100) for the cup" if values["loss"] else ""
    return (
        f"{plain(made.silicone, 5)} cm³{more} = {plain(made.to_mix, 5)} cm³ × {values['density']:g} g/cm³ = "
        f"{plain(mass, 5)} g{lost}"
    )


def _table(boards: tuple[Board, ...], thickness: float) -> Table:
    return Table(
        f"Boards, {plain(thickness)} mm thick",
        ("", "pieces", "mm", "inches"),
        tuple(
            (b.name, str(b.count), f"{plain(b.long, 5)} × {plain(b.wide, 5)}", f"{inches(b.long)} × {inches(b.wide)}")
            for b in boards
        ),
    )


def _of_material(material: Material) -> Mapping[str, str]:
    known = {"ratio": ratio_text(material) or "10:1"}
    if material.density:
        known["density"] = f"{material.density:g} g/cm3"
    offers = [KitOffer(k.title, {p.component: p.mass.g for p in k.parts}, k.price) for k in material.kits]
    per_g = best_price_per_g(offers)
    if per_g is not None:
        known["price"] = f"{per_g * 10:.2f}"
    shore = re.match(r"\d+", material.hardness)
    return known | ({"hardness": shore[0]} if shore else {})


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "box",
        "Mold box",
        "How large is the box around this positive, what do I cut, and how much silicone fills it?",
        (
            Field("length", "Length of the positive", Kind.LENGTH, hint="Over all, as it lies in the box."),
            Field("width", "Width", Kind.LENGTH),
            Field("height", "Height", Kind.LENGTH),
            Field(
                "volume",
                "Volume of the positive",
                Kind.VOLUME,
                optional=True,
                hint="From its mesh, or by immersing it. Left empty, silicone for the whole box is worked out.",
            ),
            Field("wall", "Wall around it", Kind.LENGTH, "12.7 mm", "1/2 in is common practice; there is no standard."),
            Field("floor", "Wall below it", Kind.LENGTH, "12.7 mm"),
            Field("above", "Silicone above it", Kind.LENGTH, "12.7 mm"),
            Field("spouts", "Spouts and vents", Kind.COUNT, "0", "Standing on the positive up to the level."),
            Field("spout", "Their diameter", Kind.LENGTH, "12 mm"),
            Field("overfill", "Margin", Kind.PERCENT, "3 %"),
            Field("loss", "Stays in cup and tools", Kind.PERCENT, "0 %"),
            Field("boards", "Boards are thick", Kind.LENGTH, "18 mm"),
            Field("rim", "Boards stand above the silicone", Kind.LENGTH, "10 mm"),
            Field("density", "Density of the silicone", Kind.DENSITY, "1.1 g/cm3"),
            Field("ratio", "Mix ratio by weight", Kind.TEXT, "10:1"),
            Field("price", "Price a kilogram", Kind.MONEY, optional=True),
            Field("cup", "Cup holds, of mix", Kind.MASS, optional=True),
            Field("cup-empty", "Cup weighs, empty", Kind.MASS, optional=True, pan=True),
            Field("maximum", "Scale ends at", Kind.MASS, optional=True),
            Field("stock", "In stock, all components", Kind.MASS, optional=True),
            Field(
                "parting", "Parting line above the bottom", Kind.LENGTH, optional=True, hint="For a mold in two pieces."
            ),
            Field("below", "Positive below that line", Kind.VOLUME, optional=True),
            Field("undercut", "Deepest undercut", Kind.LENGTH, optional=True),
            Field("hardness", "Hardness, Shore A", Kind.NUMBER, optional=True),
        ),
        _work,
        _of_material,
    ),
)
