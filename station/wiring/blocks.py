"""Each part as its piece of circuit on the board, from the wire's end at the left to the rails."""

from __future__ import annotations

from collections.abc import Callable

from station.drawing.marks import Anchor, Box, Dot, Ink, Label, Line, Mark
from station.texts import t
from station.wiring.figures import nanofarads, ohms
from station.wiring.header import Carries
from station.wiring.parts import Buzzer, Contact, Lamp, Part, Sensor, Tone
from station.wiring.routing import BOARD_X
from station.wiring.symbols import (
    SMALL,
    capacitor,
    contact,
    diode,
    ground,
    lit_diode,
    rail,
    resistor,
    transistor,
    upright_resistor,
)

RAIL_ROOM = (20.0, 6.0)
_SERIES_X = 740.0


def room(part: Part) -> tuple[float, float]:
    """How much a block needs above and below its wire."""
    match part:
        case Lamp() | Tone():
            return 26.0, 20.0
        case Buzzer():
            return 74.0, 52.0
        case Contact():
            return 46.0, 34.0
        case Sensor():
            return 46.0, 34.0


def block(part: Part, y: float) -> tuple[Mark, ...]:
    """The circuit of a part whose wire arrives at height `y`."""
    match part:
        case Lamp():
            return _straight(y, part.ohm, lit_diode, 18)
        case Tone():
            return _straight(y, part.ohm, _disc, 20)
        case Buzzer():
            return _buzzer(part, y)
        case Contact():
            return _contact(part, y)
        case Sensor():
            return _sensor(part, y)


def _straight(y: float, ohm: float, sign: Callable[[float, float], tuple[Mark, ...]], wide: float) -> tuple[Mark, ...]:
    return (
        Line(BOARD_X, y, _SERIES_X, y),
        *resistor(_SERIES_X, y, ohms(ohm)),
        Line(_SERIES_X + 50, y, 860, y),
        *sign(860, y),
        Line(860 + wide, y, 960, y),
        *ground(960, y),
    )


def _disc(x: float, y: float) -> tuple[Mark, ...]:
    return Line(x, y - 10, x, y + 10), Box(x + 5, y - 12, 10, 24), Line(x + 20, y - 10, x + 20, y + 10)


def _buzzer(buzzer: Buzzer, y: float) -> tuple[Mark, ...]:
    upper, loop = y - 24, y - 52
    return (
        Line(BOARD_X, y, _SERIES_X, y),
        *resistor(_SERIES_X, y, ohms(buzzer.ohm)),
        Line(_SERIES_X + 50, y, 880, y),
        Dot(840, y, 3),
        Line(840, y, 840, y + 8),
        *upright_resistor(840, y + 8, ohms(buzzer.hold_off_ohm)),
        *ground(840, y + 30),
        *transistor(880, y),
        Label(912, y + 5, t("NPN transistor"), Anchor.START, SMALL),
        *ground(896, y + 22),
        Line(896, upper, 960, upper),
        Dot(930, upper, 3),
        Box(960, upper - 12, 60, 24),
        Label(990, upper + 4, t("buzzer"), Anchor.MIDDLE, SMALL),
        Line(1020, upper, 1080, upper),
        Label(1026, upper + 16, "+", Anchor.START, 14, bold=True),
        Dot(1050, upper, 3),
        *rail(1080, upper, Carries.V5),
        Line(930, upper, 930, loop),
        Line(930, loop, 981, loop),
        *diode(981, loop),
        Line(999, loop, 1050, loop),
        Line(1050, loop, 1050, upper),
        Label(990, loop - 12, t("diode"), Anchor.MIDDLE, SMALL),
    )


def _contact(part: Contact, y: float) -> tuple[Mark, ...]:
    return (
        Line(BOARD_X, y, _SERIES_X, y),
        *capacitor(680, y, nanofarads(part.farad)),
        *resistor(_SERIES_X, y, ohms(part.ohm)),
        Line(_SERIES_X + 50, y, 850, y),
        *_pull_up(850, y, part.pull_up_ohm),
        Line(850, y, 1000, y, Ink.DASHED),
        Label(925, y - 4, t("cable"), Anchor.MIDDLE, SMALL),
        *contact(1000, y),
        Line(1040, y, 1080, y, Ink.DASHED),
        *ground(1080, y),
    )


def _sensor(part: Sensor, y: float) -> tuple[Mark, ...]:
    return (
        Line(BOARD_X, y, 850, y),
        *_pull_up(730, y, part.pull_up_ohm),
        Line(850, y, 1000, y, Ink.DASHED),
        Box(1000, y - 28, 90, 56),
        Label(1045, y + 4, "1-Wire", Anchor.MIDDLE, SMALL),
        Line(970, y - 16, 1000, y - 16, Ink.DASHED),
        Line(970, y - 23, 970, y - 9),
        Label(964, y - 12, t(Carries.V3.value), Anchor.END, SMALL, bold=True),
        Line(970, y + 14, 1000, y + 14, Ink.DASHED),
        *ground(970, y + 14),
        Label(890, y + 16, t("cable"), Anchor.MIDDLE, SMALL),
    )


def _pull_up(x: float, y: float, ohm: float) -> tuple[Mark, ...]:
    """From the line at (x, y) up and through a resistor to 3.3 V."""
    upper = y - 26
    return (
        Dot(x, y, 3),
        Line(x, y, x, upper),
        Line(x, upper, x + 20, upper),
        *resistor(x + 20, upper, ohms(ohm)),
        Line(x + 70, upper, x + 90, upper),
        *rail(x + 90, upper, Carries.V3),
    )
