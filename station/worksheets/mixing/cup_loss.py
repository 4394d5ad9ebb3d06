"""Worksheet: what stays in cup and tools, from cups that were weighed when they were emptied."""

from __future__ import annotations

from station.casting.loss import Emptied, allowance, emptied
from station.errors import Refused
from station.quantities import grams
from station.texts import N_, number, t
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import cells_of
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """The allowance for one size of cup. Raises Refused for a line that is no emptied cup."""
    seen = [_cup(line) for line in values["cups"]]
    found = allowance(values["cup"], seen)
    cells = tuple((f"{plain(cup.capacity_g)} g", f"{number(cup.percent, '.2f')} %") for cup in seen)
    return Worked(
        (Row(t("Plan with a loss of"), f"{number(found.percent, '.1f')} %", found.source),),
        {"loss_percent": found.percent, "cups": len(seen), "source": found.source},
        notes=(
            t("What stays: the emptied cup with its stirrer, less the same two clean. Cured or not, always alike."),
        ),
        tables=(Table(t("Emptied cups"), (t("cup"), t("stayed")), cells),) if cells else (),
        onward={f"/work/batch?loss={found.percent:.1f}": t("Batch with this loss")},
    )


def _cup(line: str) -> Emptied:
    """ "1000 g, 820 g, 14.2 g": what the cup holds, what was mixed, what stayed."""
    cells = cells_of(line)
    if len(cells) != 3:
        raise Refused(
            t("{line} is not an emptied cup.", line=repr(line)),
            t('Write "1000 g, 820 g, 14.2 g": holds, mixed, stayed.'),
        )
    return emptied(*(grams(cell, bare="g") for cell in cells))


CUP_LOSS = Worksheet(
    "cup-loss",
    N_("What stays in the cup"),
    N_("How much more do I mix for what stays in cup and tools?"),
    (
        Field("cup", N_("The cup to be used holds"), Kind.MASS, hint=N_("In grams of mix.")),
        Field(
            "cups",
            N_("Emptied cups"),
            Kind.LINES,
            optional=True,
            hint=N_("One a line, the latest last: what it holds, was mixed, stayed, such as 1000 g, 820 g, 14.2 g."),
        ),
    ),
    work,
)
