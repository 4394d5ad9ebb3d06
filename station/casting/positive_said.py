"""What is said about a positive, on the page and on the command line alike: size, findings, the question of unit."""

from __future__ import annotations

from station.casting.positive import MILLIMETRES, NAMES, Leak, Positive, Unit
from station.casting.written_mm import figures, length
from station.texts import number, t, tn


def size(positive: Positive) -> str:
    """Width × depth × height, as in "120 × 80 × 30 mm"."""
    return " × ".join(figures(side) for side in positive.extents_mm) + " mm"


def question(positive: Positive) -> str:
    """What to ask a person about the unit; empty when it is known."""
    if positive.sure_of_unit:
        return ""
    other = Unit.IN if positive.unit is Unit.MM else Unit.MM
    instead = length(positive.longest_mm * MILLIMETRES[other] / MILLIMETRES[positive.unit])
    return t(
        "Is it {size}? In {unit} it would be {instead} long.",
        size=size(positive),
        unit=t(NAMES[other]),
        instead=instead,
    )


def volume(positive: Positive) -> str:
    """The volume, or that there is none."""
    return t("unknown: see below") if positive.volume_cm3 is None else f"{figures(positive.volume_cm3)} cm³"


def area(positive: Positive) -> str:
    """The surface, or that there is none."""
    return t("unknown after uneven scaling") if positive.area_cm2 is None else f"{figures(positive.area_cm2)} cm²"


def warnings(positive: Positive) -> tuple[str, ...]:
    """What stands in the way of a volume."""
    said = []
    if not positive.closed:
        said.append(
            tn(
                "The surface does not close: a hole, {edges} open edges. An open surface has no volume. Close it in "
                "the program that made it; the picture shows where.",
                "The surface does not close: {n} holes, {edges} open edges. An open surface has no volume. Close it in "
                "the program that made it; the picture shows where.",
                positive.leaking,
                edges=positive.open_edges,
            )
        )
    if not positive.consistent:
        said.append(
            t(
                "Facets contradict each other about which side is outside, so there is no volume. Have the "
                "program that made it repair the mesh."
            )
        )
    return tuple(said)


def notes(positive: Positive) -> tuple[str, ...]:
    """What else was found, and what was done about it."""
    said = list(positive.notes)
    if positive.inverted:
        said.append(t("The surface was inside out; it was turned."))
    if positive.turned:
        said.append(
            tn(
                "{n} facet was the wrong way round and turned.",
                "{n} facets were the wrong way round and turned.",
                positive.turned,
            )
        )
    if positive.bodies > 1:
        said.append(
            t("{bodies} separate bodies, added up; where they overlap, the room counts twice.", bodies=positive.bodies)
        )
    if positive.hollows:
        said.append(
            tn(
                "{n} hollow inside is taken off the volume; a poured positive has none.",
                "{n} hollows inside are taken off the volume; a poured positive has none.",
                positive.hollows,
            )
        )
    if positive.scale != (1.0, 1.0, 1.0):
        factors = " × ".join(number(factor, ".6g") for factor in positive.scale)
        said.append(t("Scaled by {factors} (right, back, up).", factors=factors))
    if positive.mirrored:
        said.append(t("Mirrored: the other of left and right. The picture still shows the file."))
    return tuple(said)


def leak(one: Leak) -> str:
    """Where a hole is, counted from the middle of the positive."""
    right, back, up = one.at_mm
    ways = (
        t("{mm} mm right", mm=_mm(right)) if right >= 0 else t("{mm} mm left", mm=_mm(right)),
        t("{mm} mm back", mm=_mm(back)) if back >= 0 else t("{mm} mm front", mm=_mm(back)),
        t("{mm} mm above", mm=_mm(up)) if up >= 0 else t("{mm} mm below", mm=_mm(up)),
    )
    return tn(
        "{ways} of the middle; its rim is about {rim} ({n} edge)",
        "{ways} of the middle; its rim is about {rim} ({n} edges)",
        one.edges,
        ways=", ".join(ways),
        rim=length(one.rim_mm),
    )


def _mm(offset: float) -> str:
    return number(abs(offset), ".1f")
