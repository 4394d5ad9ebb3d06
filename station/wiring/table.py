"""The wiring as lines of text: wires, parts with their values and rules, what is taken, what is wrong."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from station.texts import t
from station.wiring.budget import LOGIC_A, PIN_A, Budget, budget
from station.wiring.figures import milliamperes
from station.wiring.findings import findings
from station.wiring.header import Carries, HeaderPin
from station.wiring.plan import Plan, Role, Wire
from station.wiring.rules import needs

_WIDE = 100


def carried(pin: HeaderPin) -> str:
    """What a pin of the header carries, in words: "GPIO 17", "ground"."""
    return f"GPIO {pin.gpio}" if pin.carries is Carries.GPIO else t(pin.carries.value)


def goes_to(wire: Wire) -> str:
    """Where a wire goes: a part by its name, or a rail."""
    if isinstance(wire.to, Role):
        return wire.to.words
    return t("rail for {carries}", carries=t(wire.to.value))


def rows(plan: Plan) -> Sequence[tuple[str, str, str]]:
    """Each wire along the header: number of the pin, what it carries, where the wire goes."""
    return [(str(wire.pin.number), carried(wire.pin), goes_to(wire)) for wire in plan.wires]


def lines(plan: Plan) -> Sequence[str]:
    """Everything, as a terminal shows it."""
    if not plan.connections:
        return [t("The settings name no buzzer, lamp, pedal, button or sensor, so there is nothing to wire.")]
    wrong = [one.words() for one in findings(plan)]
    return [
        *_columns([(t("pin"), t("carries"), t("goes to")), *rows(plan)]),
        "",
        *_parts(plan),
        *_taken(budget(plan)),
        *(["", *wrong] if wrong else []),
    ]


def _columns(of: Sequence[tuple[str, str, str]]) -> list[str]:
    first, second = (max(len(row[at]) for row in of) for at in (0, 1))
    return [f"{number:>{first}}  {carries:<{second}}  {to}" for number, carries, to in of]


def _parts(plan: Plan) -> list[str]:
    """Parts of one kind together, in the order of the plan."""
    said: dict[tuple[str, ...], list[str]] = {}
    for one in plan.connections:
        said.setdefault(tuple(needs(one.part)), []).append(one.role.words)
    found = []
    for sentences, names in said.items():
        indented = [wrap(sentence, _WIDE, initial_indent="- ", subsequent_indent="  ") for sentence in sentences]
        found += [", ".join(names), *(line for each in indented for line in each), ""]
    return found


def _taken(of: Budget) -> list[str]:
    return [
        t(
            "All at once take {logic} from the Pi's 3.3 V, of {limit}, and {rail} from its 5 V.",
            logic=milliamperes(of.logic_a),
            limit=milliamperes(LOGIC_A),
            rail=milliamperes(of.rail5_a),
        ),
        t("No pin may give more than {limit}.", limit=milliamperes(PIN_A))
        if not of.too_much
        else t(
            "No pin may give more than {limit}: {parts} would.",
            limit=milliamperes(PIN_A),
            parts=", ".join(one.role.words for one in of.too_much),
        ),
    ]
