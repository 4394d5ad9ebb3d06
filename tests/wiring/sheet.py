"""What a drawing of marks shows, for the tests: which texts, where they lie, and where lines run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations, pairwise

from station.drawing.dimensions import wide
from station.drawing.marks import Anchor, Box, Drawing, Label, Line
from station.wiring.routing import Point, Run

Field = tuple[float, float, float, float]
"""Left, top, right, bottom."""
Stretch = tuple[Point, Point]


def field(label: Label) -> Field:
    """The field that a label takes at most: letters as wide as `wide` says, a fifth of their height below the line."""
    long = wide(label.text, label.size)
    left = label.x - {Anchor.START: 0.0, Anchor.MIDDLE: long / 2, Anchor.END: long}[label.anchor]
    return left, label.y - 0.75 * label.size, left + long, label.y + 0.2 * label.size


def labels(drawing: Drawing) -> list[Label]:
    return [mark for mark in drawing.marks if isinstance(mark, Label)]


def texts(drawing: Drawing) -> list[str]:
    return [label.text for label in labels(drawing)]


def overlaps(drawing: Drawing) -> list[tuple[str, str]]:
    """Each two labels whose fields share an area."""
    return [(a.text, b.text) for a, b in combinations(labels(drawing), 2) if meet(field(a), field(b))]


def outside(drawing: Drawing) -> list[str]:
    """The labels that stick out of the sheet."""
    found = []
    for label in labels(drawing):
        left, top, right, bottom = field(label)
        if left < 0 or top < 0 or right > drawing.width or bottom > drawing.height:
            found.append(label.text)
    return found


def on_pins(drawing: Drawing, radius: float) -> list[str]:
    """The labels that lie on a pin without being its number."""
    side = 2 * radius
    pins = [mark for mark in drawing.marks if isinstance(mark, Box) and (mark.width, mark.height) == (side, side)]
    assert len(pins) == 40
    return [
        label.text
        for label in labels(drawing)
        for pin in pins
        if (label.x, label.anchor) != (pin.x + radius, Anchor.MIDDLE)
        and meet(field(label), (pin.x, pin.y, pin.x + side, pin.y + side))
    ]


def meet(a: Field, b: Field) -> bool:
    """Whether two fields share an area."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def stretches(run: Run) -> Iterator[Stretch]:
    return pairwise(run.points)


def struck(drawing: Drawing, runs: Iterable[Run]) -> list[str]:
    """The labels that a wire, or a level or upright line of a circuit, runs through."""
    ways: list[Stretch] = [stretch for run in runs for stretch in stretches(run)]
    lines = [mark for mark in drawing.marks if isinstance(mark, Line)]
    ways += [((one.x1, one.y1), (one.x2, one.y2)) for one in lines if one.x1 == one.x2 or one.y1 == one.y2]
    return [label.text for label in labels(drawing) for way in ways if meet(field(label), as_field(way))]


def crossings(runs: Iterable[Run]) -> list[tuple[int, int]]:
    """Each two wires that touch anywhere: as all stretches are level or upright, their fields with a hair around."""
    return [
        (a.wire.pin.number, b.wire.pin.number)
        for a, b in combinations(runs, 2)
        if any(meet(as_field(one, 0.5), as_field(two, 0.5)) for one in stretches(a) for two in stretches(b))
    ]


def as_field(way: Stretch, hair: float = 0.01) -> Field:
    (x1, y1), (x2, y2) = way
    return min(x1, x2) - hair, min(y1, y2) - hair, max(x1, x2) + hair, max(y1, y2) + hair
