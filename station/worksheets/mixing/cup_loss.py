"""Worksheet: what stays in cup and tools, from cups that were weighed when they were emptied."""

from __future__ import annotations

from station.casting.loss import Emptied, allowance, emptied
from station.errors import Refused
from station.quantities import grams
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import cells_of
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """The allowance for one size of cup. Raises Refused for a line that is no emptied cup."""
    seen = [_cup(line) for line in values["cups"]]
    found = allowance(values["cup"], seen)
    cells = tuple((f"{plain(cup.capacity_g)} g", f"{cup.percent:.2f} %") for cup in seen)
    return Worked(
        (Row("Plan with a loss of", f"{found.percent:.1f} %", found.source),),
        {"loss_percent": found.percent, "cups": len(seen), "source": found.source},
        notes=("What stays: the emptied cup with its stirrer, less the same two clean. Cured or not, always alike.",),
        tables=(Table("Emptied cups", ("cup", "stayed"), cells),) if cells else (),
        onward={f"/work/batch?loss={found.percent:.1f}": "Batch with this loss"},
    )


def _cup(line: str) -> Emptied:
    """ "1000 g, 820 g, 14.2 g": what the cup holds, what was mixed, what stayed."""
    cells = cells_of(line)
    if len(cells) != 3:
        raise Refused(f"{line!r} is not an emptied cup.", 'Write "1000 g, 820 g, 14.2 g": holds, mixed, stayed.')
    return emptied(*(grams(cell, bare="g") for cell in cells))


CUP_LOSS = Worksheet(
    "cup-loss",
    "What stays in the cup",
    "How much more do I mix for what stays in cup and tools?",
    (
        Field("cup", "The cup to be used holds", Kind.MASS, hint="In grams of mix."),
        Field(
            "cups",
            "Emptied cups",
            Kind.LINES,
            optional=True,
            hint="One a line, the latest last: what it holds, was mixed, stayed, such as 1000 g, 820 g, 14.2 g.",
        ),
    ),
    work,
)
