"""Limits from casts that passed and failed: packing between short shots and flash, the time from contact to pour, the
least mix time and the least time in the mold. Each from a penalised logistic curve: where one cast in ten fails."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from station.core.judging_events import DefectKind
from station.errors import Refused
from station.insight.factors import Factor, factor
from station.insight.facts import CastFacts
from station.texts import N_, t

CHANCE = 0.1
"""The limit is where this part of the casts fails. Our own choice."""
CLEAR = 0.05


class Edge(Enum):
    """A limit that is looked for. The value is its name in words."""

    SHORT_SHOTS = N_("least packing factor against short shots")
    FLASH = N_("largest packing factor against flash")
    POUR = N_("longest time from first contact to pour")
    MIX = N_("shortest mix time")
    CURE = N_("shortest time in the mold")


@dataclass(frozen=True, slots=True)
class Rule:
    """How an edge is looked for: along which factor, which defects count, on which side they lie."""

    key: str
    defects: frozenset[DefectKind]
    fails_below: bool


RULES = {
    Edge.SHORT_SHOTS: Rule("packing_factor", frozenset({DefectKind.SHORT_SHOT}), True),
    Edge.FLASH: Rule("packing_factor", frozenset({DefectKind.FLASH}), False),
    # What a mix does that was poured too late: it no longer flows, or traps what it should let go.
    Edge.POUR: Rule(
        "contact_to_pour_s",
        frozenset({DefectKind.SHORT_SHOT, DefectKind.VOID, DefectKind.BUBBLES, DefectKind.BAD_BOND}),
        False,
    ),
    # What a mix does that was stirred too little.
    Edge.MIX: Rule("mix_s", frozenset({DefectKind.SOFT_SPOT, DefectKind.TACKY, DefectKind.STREAKS}), True),
    # What a part does that came out too early.
    Edge.CURE: Rule("cure_h", frozenset({DefectKind.TACKY, DefectKind.TEAR, DefectKind.SOFT_SPOT}), True),
}


@dataclass(frozen=True, slots=True)
class Found:
    """A limit: `at` with its interval (None: it has no end there), from `casts` of which `failed` failed, and p that
    the factor goes with failing at all."""

    edge: Edge
    at: float
    low: float | None
    high: float | None
    p: float
    casts: tuple[int, ...]
    failed: int

    @property
    def factor(self) -> Factor:
        """What it is a limit of."""
        found = factor(RULES[self.edge].key)
        assert found is not None
        return found


def limit(casts: Sequence[CastFacts], edge: Edge) -> Found:
    """The limit of casts of ONE material. Raises Refused when they do not tell one, with the reason."""
    from station.insight.firth import Curve

    rule = RULES[edge]
    along = factor(rule.key)
    assert along is not None
    used = [(cast, value) for cast in casts if cast.verdict and (value := along.value(cast)) is not None]
    failed = [any(one.kind in rule.defects for one in cast.defects) for cast, _ in used]
    curve = Curve([value for _, value in used], failed)
    slope = curve.slope()
    if slope.p > CLEAR or (slope.per_unit < 0) is not rule.fails_below:
        raise Refused(
            t("Whether a cast failed did not go with its {factor} clearly enough.", factor=t(along.title)),
            t("Vary it within what the sheet allows, and judge the parts."),
        )
    place = curve.limit(CHANCE)
    return Found(edge, place.at, place.low, place.high, slope.p, tuple(cast.number for cast, _ in used), sum(failed))
