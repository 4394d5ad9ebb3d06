"""Worksheet of the mold box: from a positive to boards, silicone, both components and what they cost."""

from __future__ import annotations

import re
from collections.abc import Mapping

from station.casting.batch import grown_for_loss
from station.casting.board_fit import Laid, laid_out
from station.casting.boards import Board, area_cm2, cutting_list
from station.casting.box_pours import margin_sentence, stock_sentence, warnings
from station.casting.moldbox import Plan, Spouts, Walls
from station.core.costing import price_of
from station.core.material import Material
from station.core.shares import component_shares
from station.errors import Refused
from station.texts import N_, number, t
from station.worksheets.buying.lines import money
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import parts_of, ratio_text
from station.worksheets.plain import plain
from station.worksheets.room.box_drawing import plan_view, section
from station.worksheets.room.box_mix import Mix, batch, kits_link
from station.worksheets.room.box_words import board_table, box_rows, round_box_note

CAUTIONS = (
    N_(
        "Sulfur, tin, amines, some clays, latex gloves and uncured prints stop an addition-cure silicone at the "
        "surface: try a dab on each new surface first."
    ),
    N_(
        "Seal every seam and stand the box level: it leaks until the silicone gels. Pour in a thin stream into one "
        "corner."
    ),
    N_("The safety data sheets of silicone and release agent come first."),
)
BOARDS_NOTE = N_(
    "The long sides run past the ends of the short ones, and all four stand on the floor. Melamine-faced boards let "
    "silicone go; tape or fill the seams from outside (common practice, no source)."
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
    boards = cutting_list(made.inner, values["boards"], rim=values["rim"])
    bought = _bought(boards, values)
    parts = parts_of(values["ratio"])
    net = made.to_mix * values["density"]
    mix = Mix(grown_for_loss(net, values["loss"]), parts)
    poured = batch(made, mix, values)
    rows = [*poured.rows, *box_rows(made)]
    figures: dict[str, float | list[float] | dict[str, float]] = {
        "box_mm": list(made.inner),
        "box_cm3": made.box,
        "wetted_cm2": made.wetted,
        "silicone_cm3": made.silicone,
        "to_mix_cm3": made.to_mix,
        "mixed_g": mix.grams,
        "masses_g": mix.masses,
        **poured.figures,
        "boards_cm2": area_cm2(boards),
    }
    if bought:
        count = figures["boards_to_buy"] = max(piece.board for piece in bought)
        size = f"{plain(values['board-long'])} × {plain(values['board-wide'])} mm"
        rows.append(
            Row(
                t("Boards to buy"),
                t("{count} of {size}", count=count, size=size),
                t("first fit, {mm} mm a saw cut", mm=plain(values["saw"])),
            )
        )
    if values["price"] is not None:
        cost = mix.grams / 1000 * values["price"]
        figures["cost_hundredths"] = cost
        rule = t("{kg} kg × {price} a kg", kg=number(mix.grams / 1000, ".3f"), price=money(values["price"]))
        rows.append(Row(t("Silicone costs"), money(cost), rule))
    warned = list(warnings(made, undercut=values["undercut"], hardness=values["hardness"]))
    margin = mix.grams - mix.grams / (1 + made.overfill_percent / 100)
    notes = [margin_sentence(margin, poured.largest), *poured.notes]
    if values["volume"] is None:
        warned.append(
            t(
                "The volume of the positive is not known: the silicone is that of the whole box, and some will be "
                "left. Measure it from its mesh or by immersing it."
            )
        )
    if values["undercut"] is not None and values["hardness"] is None:
        notes.append(t("Type the hardness of the silicone as well to have the undercut judged."))
    if values["stock"] is not None:
        said = stock_sentence(mix.grams, values["stock"], poured.figures.get("lower_g"))
        (notes if values["stock"] >= mix.grams else warned).append(said)
    notes += [t(BOARDS_NOTE), round_box_note(made, values["density"], values["loss"])]
    return Worked(
        tuple(rows),
        figures,
        tuple(warned),
        tuple(notes),
        tuple(map(t, CAUTIONS)),
        (plan_view(made, values["boards"]), section(made, values["boards"], values["rim"], values["parting"])),
        (board_table(boards, values["boards"], bought),),
        {kits_link(mix): t("What to buy for it")},
    )


def _bought(boards: tuple[Board, ...], values: Values) -> tuple[Laid, ...]:
    long, wide = values["board-long"], values["board-wide"]
    if long is None and wide is None:
        return ()
    if long is None or wide is None:
        raise Refused(t("Only one side of the boards to buy is given."), t("Type their length and their width."))
    return laid_out(boards, long, wide, values["saw"])


def _of_material(material: Material) -> Mapping[str, str]:
    known = {"ratio": ratio_text(material) or "10:1"}
    if material.density:
        known["density"] = f"{material.density:g} g/cm3"
    price = price_of(material, {name: 1000 * share for name, share in component_shares(material).items()})
    if price is not None:
        known["price"] = f"{price / 100:.2f}"
    shore = re.match(r"\d+", material.hardness)
    return known | ({"hardness": shore[0]} if shore else {})


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "box",
        N_("Mold box"),
        N_("How large is the box around this positive, what do I cut, and how much silicone fills it?"),
        (
            Field("length", N_("Length of the positive"), Kind.LENGTH, hint=N_("Over all, as it lies in the box.")),
            Field("width", N_("Width"), Kind.LENGTH),
            Field("height", N_("Height"), Kind.LENGTH),
            Field(
                "volume",
                N_("Volume of the positive"),
                Kind.VOLUME,
                optional=True,
                hint=N_("From its mesh, or by immersing it. Left empty, silicone for the whole box is worked out."),
            ),
            Field(
                "wall",
                N_("Wall around it"),
                Kind.LENGTH,
                "12.7 mm",
                N_("1/2 in is common practice; there is no standard."),
            ),
            Field("floor", N_("Wall below it"), Kind.LENGTH, "12.7 mm"),
            Field("above", N_("Silicone above it"), Kind.LENGTH, "12.7 mm"),
            Field("spouts", N_("Spouts and vents"), Kind.COUNT, "0", N_("Standing on the positive up to the level.")),
            Field("spout", N_("Their diameter"), Kind.LENGTH, "12 mm"),
            Field("overfill", N_("Margin"), Kind.PERCENT, "3 %"),
            Field("loss", N_("Stays in cup and tools"), Kind.PERCENT, "0 %"),
            Field("boards", N_("Boards are thick"), Kind.LENGTH, "18 mm"),
            Field("rim", N_("Boards stand above the silicone"), Kind.LENGTH, "10 mm"),
            Field("board-long", N_("Boards to buy are long"), Kind.LENGTH, optional=True),
            Field("board-wide", N_("Boards to buy are wide"), Kind.LENGTH, optional=True),
            Field("saw", N_("A saw cut takes"), Kind.LENGTH, "3 mm"),
            Field("density", N_("Density of the silicone"), Kind.DENSITY, "1.1 g/cm3"),
            Field("ratio", N_("Mix ratio by weight"), Kind.TEXT, "10:1"),
            Field("price", N_("Price a kilogram"), Kind.MONEY, optional=True),
            Field("cup", N_("Cup holds, of mix"), Kind.MASS, optional=True),
            Field("cup-empty", N_("Cup weighs, empty"), Kind.MASS, optional=True, pan=True),
            Field("maximum", N_("Scale ends at"), Kind.MASS, optional=True),
            Field("stock", N_("In stock, all components"), Kind.MASS, optional=True),
            Field(
                "parting",
                N_("Parting line above the bottom"),
                Kind.LENGTH,
                optional=True,
                hint=N_("For a mold in two pieces."),
            ),
            Field("below", N_("Positive below that line"), Kind.VOLUME, optional=True),
            Field("undercut", N_("Deepest undercut"), Kind.LENGTH, optional=True),
            Field("hardness", N_("Hardness, Shore A"), Kind.NUMBER, optional=True),
        ),
        _work,
        _of_material,
    ),
)
