"""What is needed, in stock and bought of each component, as bars to one scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from station.casting.purchase import KitOffer, Purchase
from station.drawing.marks import Box, Drawing, Ink, Label, Line, Mark
from station.texts import t

WIDTH = 420.0
_LEFT, _LONG = 10.0, 396.0


def covered(
    need: Mapping[str, float], have: Mapping[str, float], bought: Purchase, kits: Sequence[KitOffer]
) -> Drawing:
    """One row a component: stock, then what is bought, and a line at the need."""
    by_title = {kit.title: kit for kit in kits}
    rows = {
        name: (have.get(name, 0.0), sum(n * by_title[kit].grams.get(name, 0.0) for kit, n in bought.counts.items()))
        for name in need
    }
    most = max([*need.values(), *(sum(row) for row in rows.values())], default=0.0) or 1.0
    marks: list[Mark] = []
    said = []
    y = 26.0
    for name, (stock, new) in rows.items():
        per = _LONG / most
        needed = t("{name}: {mass} g needed", name=name, mass=f"{need[name]:.0f}")
        covers = t("{stock} g in stock, {bought} g bought", stock=f"{stock:.0f}", bought=f"{new:.0f}")
        marks += [
            Label(_LEFT, y, needed, size=13, bold=True),
            Box(_LEFT, y + 8, stock * per, 24, Ink.FILL),
            Box(_LEFT + stock * per, y + 8, new * per, 24, Ink.HATCH),
            Line(_LEFT + need[name] * per, y + 2, _LEFT + need[name] * per, y + 38, Ink.MARK),
            Label(_LEFT, y + 52, covers, size=12),
        ]
        said.append(f"{needed}, {covers}")
        y += 84
    marks += [Box(_LEFT, y - 8, 14, 14, Ink.FILL), Label(_LEFT + 20, y + 4, t("in stock"), size=12)]
    marks += [Box(_LEFT + 110, y - 8, 14, 14, Ink.HATCH), Label(_LEFT + 130, y + 4, t("bought"), size=12)]
    return Drawing(t("Need and purchase"), "; ".join(said) + ".", WIDTH, y + 18, tuple(marks))
