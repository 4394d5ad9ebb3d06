"""What is said about a positive, on the page and on the command line alike: size, findings, the question of unit."""

from __future__ import annotations

from station.casting.positive import MILLIMETRES, NAMES, Leak, Positive, Unit
from station.casting.written_mm import figures, length


def size(positive: Positive) -> str:
    """Width × depth × height, as in "120 × 80 × 30 mm"."""
    return " × ".join(figures(side) for side in positive.extents_mm) + " mm"


def question(positive: Positive) -> str:
    """What to ask a person about the unit; empty when it is known."""
    if positive.sure_of_unit:
        return ""
    other = Unit.IN if positive.unit is Unit.MM else Unit.MM
    instead = length(positive.longest_mm * MILLIMETRES[other] / MILLIMETRES[positive.unit])
    name = NAMES[other]
    return f"Is it {size(positive)}? In {name} it would be {instead} long."


def volume(positive: Positive) -> str:
    """The volume, or that there is none."""
    return "unknown: see below" if positive.volume_cm3 is None else f"{figures(positive.volume_cm3)} cm³"


def area(positive: Positive) -> str:
    """The surface, or that there is none."""
    return "unknown after uneven scaling" if positive.area_cm2 is None else f"{figures(positive.area_cm2)} cm²"


def warnings(positive: Positive) -> tuple[str, ...]:
    """What stands in the way of a volume."""
    said = []
    if not positive.closed:
        holes = "a hole" if positive.leaking == 1 else f"{positive.leaking} holes"
        said.append(
            f"The surface does not close: {holes}, {positive.open_edges} open edges. An open surface has no volume. "
            "Close it in the program that made it; the picture shows where."
        )
    if not positive.consistent:
        said.append(
            "Facets contradict each other about which side is outside, so there is no volume. "
            "Have the program that made it repair the mesh."
        )
    return tuple(said)


def notes(positive: Positive) -> tuple[str, ...]:
    """What else was found, and what was done about it."""
    said = list(positive.notes)
    if positive.inverted:
        said.append("The surface was inside out; it was turned.")
    if positive.turned:
        facets = "1 facet was" if positive.turned == 1 else f"{positive.turned} facets were"
        said.append(f"{facets} the wrong way round and turned.")
    if positive.bodies > 1:
        said.append(f"{positive.bodies} separate bodies, added up; where they overlap, the room counts twice.")
    if positive.hollows:
        hollow = "1 hollow inside is" if positive.hollows == 1 else f"{positive.hollows} hollows inside are"
        said.append(f"{hollow} taken off the volume; a poured positive has none.")
    if positive.scale != (1.0, 1.0, 1.0):
        said.append("Scaled by " + " × ".join(f"{factor:.6g}" for factor in positive.scale) + " (right, back, up).")
    if positive.mirrored:
        said.append("Mirrored: the other of left and right. The picture still shows the file.")
    return tuple(said)


def leak(one: Leak) -> str:
    """Where a hole is, counted from the middle of the positive."""
    right, back, up = one.at_mm
    ways = (_way(right, "right", "left"), _way(back, "back", "front"), _way(up, "above", "below"))
    edges = "1 edge" if one.edges == 1 else f"{one.edges} edges"
    return f"{', '.join(ways)} of the middle; its rim is about {length(one.rim_mm)} ({edges})"


def _way(mm: float, plus: str, minus: str) -> str:
    return f"{abs(mm):.1f} mm {plus if mm >= 0 else minus}"
