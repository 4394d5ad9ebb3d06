"""Defects by how often they came: the few that make up most of them stand first (Pareto)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from station.core.judging_events import DefectKind, Severity
from station.insight.facts import CastFacts
from station.insight.proportions import Proportion, proportion


@dataclass(frozen=True, slots=True)
class DefectCount:
    """`casts`: of those judged, how many had it. `spoilt` of them were spoilt by it.

    `up_to_here` is the share of all defects that this kind and those before it make up, 0…1.
    """

    kind: DefectKind
    casts: Proportion
    spoilt: int
    up_to_here: float


def pareto(facts: Iterable[CastFacts]) -> tuple[DefectCount, ...]:
    """The kinds of defects, the most frequent first; a cast counts once for each kind that it has."""
    judged = [cast for cast in facts if cast.verdict is not None]
    had = Counter(kind for cast in judged for kind in {defect.kind for defect in cast.defects})
    spoilt = Counter(
        kind
        for cast in judged
        for kind in {defect.kind for defect in cast.defects if defect.severity is Severity.SPOILT}
    )
    order = {kind: place for place, kind in enumerate(DefectKind)}
    found, so_far = [], 0
    for kind, count in sorted(had.items(), key=lambda one: (-one[1], order[one[0]])):
        so_far += count
        found.append(DefectCount(kind, proportion(count, len(judged)), spoilt[kind], so_far / had.total()))
    return tuple(found)
