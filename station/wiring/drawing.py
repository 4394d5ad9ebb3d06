"""The wiring drawing, for a sheet of A4 lying: header at the left, the board at the right, a line for each wire.

It is made from the same plan as the table, so neither can say what the other, or the settings, do not.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from station.drawing.marks import Anchor, Box, Dot, Drawing, Ink, Label, Line, Mark, Path
from station.texts import t
from station.wiring.blocks import RAIL_ROOM, block, room
from station.wiring.findings import demand_own_pins
from station.wiring.header import HEADER, Carries
from station.wiring.parts import Part
from station.wiring.plan import Plan, Role, Wire
from station.wiring.routing import BOARD_X, BOTTOM, EVEN_X, ODD_X, PIN_R, TOP, Run, leaves, place_of, runs
from station.wiring.table import carried, goes_to, rows

WIDTH, HEIGHT, MM = 1188.0, 840.0, 0.25
"""A4 lying, at four units to a millimetre."""
_EDGE, _FIRST, _LAST = 40.0, 100.0, 800.0
_RAIL_END, _PIN_X = 960.0, 800.0
_STRAIGHT = 3.0


def drawn(plan: Plan) -> Drawing:
    """The drawing of a plan. Raises Refused when two parts are on one pin."""
    demand_own_pins(plan)
    laid = laid_out(plan)
    marks: list[Mark] = [
        Label(_EDGE, 56, t("Wiring"), Anchor.START, 26, bold=True),
        Label(330, 56, t("Switch off before you wire. No pin stands 5 V or the levels of RS-232."), size=15),
        Label(_EDGE, 90, t("Header from above. Pin 1 has a square pad."), size=13),
        *_header({run.wire.pin.number for run in laid}),
    ]
    for run in laid:
        marks += [Path(run.points), *_board(plan, run)]
    marks.append(
        Label(_EDGE, 824, t("Drawn from the pins in the settings. GPIO numbers are those of the settings."), size=13)
    )
    return Drawing(t("Wiring"), _spoken(plan), WIDTH, HEIGHT, tuple(marks), MM)


def laid_out(plan: Plan) -> tuple[Run, ...]:
    """Each wire with its way; what the blocks leave of the sheet's height is shared out between them."""
    wires = sorted(plan.wires, key=lambda wire: leaves(wire.pin)[-1][1])
    rooms = [_room(plan, wire) for wire in wires]
    spare = (_LAST - _FIRST - sum(above + below for above, below in rooms)) / max(1, len(wires))
    begins = [*accumulate((above + below + spare for above, below in rooms), initial=_FIRST + spare / 2)][: len(wires)]
    heights = [begin + above for begin, (above, _) in zip(begins, rooms, strict=True)]
    levels = [leaves(wire.pin)[-1][1] for wire in wires]
    # A step that nobody would take for one becomes a straight line.
    return runs(wires, [b if abs(a - b) < _STRAIGHT else a for a, b in zip(heights, levels, strict=True)])


def _room(plan: Plan, wire: Wire) -> tuple[float, float]:
    return room(_part(plan, wire.to)) if isinstance(wire.to, Role) else RAIL_ROOM


def _part(plan: Plan, role: Role) -> Part:
    return next(one.part for one in plan.connections if one.role is role)


def _header(used: set[int]) -> Sequence[Mark]:
    marks: list[Mark] = [Box(ODD_X - 19, TOP - 20, EVEN_X - ODD_X + 38, BOTTOM - TOP + 40, Ink.OUTLINE)]
    for pin in HEADER:
        x, y = place_of(pin)
        if pin.number == 1:
            marks.append(Box(x - PIN_R - 3, y - PIN_R - 3, 2 * PIN_R + 6, 2 * PIN_R + 6))
        bold = pin.number in used
        marks.append(Box(x - PIN_R, y - PIN_R, 2 * PIN_R, 2 * PIN_R, Ink.BAND if bold else Ink.SHADE))
        marks.append(Label(x, y + 4, str(pin.number), Anchor.MIDDLE, 11, bold))
        if pin.odd:
            marks.append(Label(ODD_X - 24, y + 4, carried(pin), Anchor.END, 11, bold))
        else:
            marks.append(Label(EVEN_X + 24, y - 4, carried(pin), Anchor.START, 11, bold))
    return marks


def _board(plan: Plan, run: Run) -> Sequence[Mark]:
    """What stands at the end of a wire: its name, its pin, and the circuit or the rail."""
    wire, y = run.wire, run.points[-1][1]
    pin = t("pin {number}, {carries}", number=wire.pin.number, carries=carried(wire.pin))
    name = Label(BOARD_X + 16, y - 7, goes_to(wire), Anchor.START, 15, bold=True)
    if isinstance(wire.to, Carries):
        bar = Line(BOARD_X, y, _RAIL_END, y, Ink.FILL)
        return Dot(BOARD_X, y, 4), bar, name, Label(_PIN_X, y - 7, pin, Anchor.START, 13)
    below = Label(BOARD_X + 16, y + 16, pin, Anchor.START, 13)
    return Dot(BOARD_X, y, 4), *block(_part(plan, wire.to), y), name, below


def _spoken(plan: Plan) -> str:
    said = [
        t("Pin {number}, {carries}: {to}.", number=number, carries=carries, to=to) for number, carries, to in rows(plan)
    ]
    return " ".join((t("The header with 40 pins and a board with the parts."), *said))
