"""Worksheet of a container: what is left in it, and how long it is good."""

from __future__ import annotations

from datetime import timedelta

from station.casting.stock import Container, known_to_g, left_g, warnings
from station.drawing.marks import Anchor, Box, Drawing, Ink, Label, Line, Mark
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind


def _work(values: Values) -> Worked:
    left, step = left_g(values["gross"], values["empty"]), known_to_g(values["readability"])
    keeps = None if values["keeps"] is None else float(values["keeps"])
    can = Container(
        values["component"], "this one", left, values["opened"], values["best-before"], values["isocyanate"], keeps
    )
    rule = f"{values['gross']:g} g − {values['empty']:g} g empty, each read to half a step of {step:g} g"
    rows = [Row("Left in it", f"{left:.1f} g ± {step:g} g", rule)]
    until = can.good_until
    if until is not None:
        why = "its date"
        if keeps is not None and values["opened"] is not None and until == values["opened"] + timedelta(days=keeps):
            why = f"opened {values['opened'].isoformat()}, keeps {keeps:g} days"
        rows.append(Row("Good until", until.isoformat(), why))
    need = values["need"]
    if need is not None:
        rows.append(Row("After this batch", f"{max(0.0, left - need):.1f} g", f"{left:.1f} g − {need:g} g"))
    said = warnings(can, values["today"], need)
    if need is not None and 0 <= left - need < step:
        said += (f"Enough by less than the scale tells ({step:g} g): have another container at hand.",)
    return Worked(
        tuple(rows),
        {"left_g": left, "known_to_g": step, "good_until": None if until is None else until.isoformat()},
        said,
        ("On the page Stock the station keeps this count, and each cast draws it down.",),
        ("A bulging can is under pressure: do not move or open it; follow the safety data sheet.",)
        if values["isocyanate"]
        else (),
        (_sketch(values["gross"], values["empty"], need),),
    )


def _sketch(gross: float, empty: float, need: float | None) -> Drawing:
    """The container as a column: itself, what is in it, and the batch that is to come out of it."""
    per = 150 / max(gross, 1e-9)
    floor = 190.0
    marks: list[Mark] = [
        Box(40, floor - empty * per, 120, empty * per, Ink.SHADE),
        Box(40, floor - gross * per, 120, (gross - empty) * per, Ink.FILL),
        Label(172, floor - empty * per / 2 + 5, f"container {empty:g} g", size=13),
        Label(172, floor - (gross + empty) * per / 2 + 5, f"left {gross - empty:.1f} g", size=13, bold=True),
        Label(100, 24, f"{gross:g} g on the scale", Anchor.MIDDLE, 13),
    ]
    said = f"{gross:g} g on the scale: {empty:g} g container and {gross - empty:.1f} g left"
    if need is not None:
        y = floor - (gross - min(need, gross - empty)) * per
        marks += [Line(30, y, 300, y, Ink.DASHED), Label(300, y - 6, f"after {need:g} g", Anchor.END, 12)]
        said += f"; a batch takes {need:g} g"
    return Drawing("What stands on the scale", said + ".", 320, 204, tuple(marks))


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "container",
        "What is left in a container",
        "How much is left, is it enough, and is it still good?",
        (
            Field("component", "Component", Kind.TEXT, "A"),
            Field("gross", "Container as it is", Kind.MASS, hint="With its lid.", pan=True),
            Field("empty", "Empty container", Kind.MASS, hint="An empty one of the same kind will do.", pan=True),
            Field("readability", "Scale reads in steps of", Kind.MASS, "0.1 g", hint="The last digit's step."),
            Field("need", "Needed of it", Kind.MASS, optional=True),
            Field("today", "Today", Kind.DATE, optional=True, hint="Without it no date is judged."),
            Field("opened", "Opened on", Kind.DATE, optional=True),
            Field("keeps", "Keeps once opened, in days", Kind.COUNT, optional=True),
            Field("best-before", "Best before", Kind.DATE, optional=True),
            Field("isocyanate", "It is an isocyanate", Kind.YES),
        ),
        _work,
    ),
)
