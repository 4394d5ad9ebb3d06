"""Worksheet of a container: what is left in it, and how long it is good."""

from __future__ import annotations

from datetime import timedelta

from station.casting.stock import Container, known_to_g, left_g, warnings
from station.drawing.marks import Anchor, Box, Drawing, Ink, Label, Line, Mark
from station.texts import N_, number, t, tc
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind


def _work(values: Values) -> Worked:
    left, step = left_g(values["gross"], values["empty"]), known_to_g(values["readability"])
    keeps = None if values["keeps"] is None else float(values["keeps"])
    can = Container(
        values["component"],
        tc("the lot on the scale, whose number nobody typed", "this one"),
        left,
        values["opened"],
        values["best-before"],
        values["isocyanate"],
        keeps,
    )
    rule = t(
        "{gross} g − {empty} g empty, each read to half a step of {step} g",
        gross=number(values["gross"]),
        empty=number(values["empty"]),
        step=number(step),
    )
    left_said = f"{number(left, '.1f')} g"
    rows = [Row(t("Left in it"), f"{left_said} ± {number(step)} g", rule)]
    until = can.good_until
    if until is not None:
        why = t("its date")
        if keeps is not None and values["opened"] is not None and until == values["opened"] + timedelta(days=keeps):
            why = t("opened {day}, keeps {keeps} days", day=values["opened"].isoformat(), keeps=number(keeps))
        rows.append(Row(t("Good until"), until.isoformat(), why))
    need = values["need"]
    if need is not None:
        rest = f"{number(max(0.0, left - need), '.1f')} g"
        rows.append(Row(t("After this batch"), rest, f"{left_said} − {number(need)} g"))
    said = warnings(can, values["today"], need)
    if need is not None and 0 <= left - need < step:
        said += (
            t("Enough by less than the scale tells ({step} g): have another container at hand.", step=number(step)),
        )
    return Worked(
        tuple(rows),
        {"left_g": left, "known_to_g": step, "good_until": None if until is None else until.isoformat()},
        said,
        (t("On the page Stock the station keeps this count, and each cast draws it down."),),
        (t("A bulging can is under pressure: do not move or open it; follow the safety data sheet."),)
        if values["isocyanate"]
        else (),
        (_sketch(values["gross"], values["empty"], need),),
    )


def _sketch(gross: float, empty: float, need: float | None) -> Drawing:
    """The container as a column: itself, what is in it, and the batch that is to come out of it."""
    per = 150 / max(gross, 1e-9)
    floor = 190.0
    said = {"gross": number(gross), "empty": number(empty), "left": number(gross - empty, ".1f")}
    marks: list[Mark] = [
        Box(40, floor - empty * per, 120, empty * per, Ink.SHADE),
        Box(40, floor - gross * per, 120, (gross - empty) * per, Ink.FILL),
        Label(172, floor - empty * per / 2 + 5, t("container {empty} g", empty=said["empty"]), size=13),
        Label(172, floor - (gross + empty) * per / 2 + 5, t("left {left} g", left=said["left"]), size=13, bold=True),
        Label(100, 24, t("{gross} g on the scale", gross=said["gross"]), Anchor.MIDDLE, 13),
    ]
    spoken = t("{gross} g on the scale: {empty} g container and {left} g left.", **said)
    if need is not None:
        y = floor - (gross - min(need, gross - empty)) * per
        after = t("after {need} g", need=number(need))
        marks += [Line(30, y, 300, y, Ink.DASHED), Label(300, y - 6, after, Anchor.END, 12)]
        spoken = t(
            "{gross} g on the scale: {empty} g container and {left} g left; a batch takes {need} g.",
            **said,
            need=number(need),
        )
    return Drawing(t("What stands on the scale"), spoken, 320, 204, tuple(marks))


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "container",
        N_("What is left in a container"),
        N_("How much is left, is it enough, and is it still good?"),
        (
            Field("component", N_("Component"), Kind.TEXT, "A"),
            Field("gross", N_("Container as it is"), Kind.MASS, hint=N_("With its lid."), pan=True),
            Field(
                "empty", N_("Empty container"), Kind.MASS, hint=N_("An empty one of the same kind will do."), pan=True
            ),
            Field("readability", N_("Scale reads in steps of"), Kind.MASS, "0.1 g", hint=N_("The last digit's step.")),
            Field("need", N_("Needed of it"), Kind.MASS, optional=True),
            Field("today", N_("Today"), Kind.DATE, optional=True, hint=N_("Without it no date is judged.")),
            Field("opened", N_("Opened on"), Kind.DATE, optional=True),
            Field("keeps", N_("Keeps once opened, in days"), Kind.COUNT, optional=True),
            Field("best-before", N_("Best before"), Kind.DATE, optional=True),
            Field("isocyanate", N_("It is an isocyanate"), Kind.YES),
        ),
        _work,
    ),
)
