"""A simulated workshop whose truth is known: what its casts would look like, and what the best advice could know.

All of it is invented: laws and sizes of effects are our own choice, so figures from it compare methods, not workshops.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np

from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.insight.facts import CastFacts

FIRST = datetime(2026, 1, 5, 9, tzinfo=UTC)
CAVITY = 500.0
FREE_RISE = 0.096


@dataclass(frozen=True)
class Truth:
    """How the workshop really is. Chances of a soft spot under and over `mix_edge`; of a void in the bad lot."""

    k: float = 0.93 / CAVITY  # density per gram mixed
    per_degree: float = 0.0  # g/cm³ and °C
    noise: float = 0.0012  # g/cm³, of one part
    mix_edge: float = 75.0
    soft_under: float = 0.0
    soft_over: float = 0.0
    void_bad_lot: float = 0.0
    void_other: float = 0.0
    short_cold: float = 0.0  # chance of a short shot under 17 °C
    short_warm: float = 0.0
    any_void: float = 0.0  # with no reason at all


@dataclass
class Workshop:
    """Casts out of it, one after the other."""

    truth: Truth
    seed: int
    _draw: np.random.Generator = field(init=False)

    def __post_init__(self) -> None:
        self._draw = np.random.default_rng(self.seed)

    def casts(self, n: int) -> list[CastFacts]:
        """The first n casts: lots change every five or so, days differ in temperature, mixing as people mix."""
        draw, truth = self._draw, self.truth
        found, at, celsius, lot = [], FIRST, 21.0, 0
        for number in range(1, n + 1):
            days = int(draw.choice([0, 0, 1, 1, 3, 7]))
            at += timedelta(days=days, hours=2)
            celsius = float(draw.normal(20, 3)) if days else celsius
            lot += int(draw.random() < 0.2)
            mix = float(draw.normal(82, 14))
            mixed = float(draw.normal(62, 2.5))
            density = truth.k * mixed + truth.per_degree * (celsius - 20) + float(draw.normal(0, truth.noise))
            chances = {
                DefectKind.SOFT_SPOT: truth.soft_under if mix < truth.mix_edge else truth.soft_over,
                DefectKind.VOID: max(truth.any_void, truth.void_bad_lot if lot == 1 else truth.void_other),
                DefectKind.SHORT_SHOT: truth.short_cold if celsius < 17 else truth.short_warm,
            }
            kinds = [kind for kind, chance in chances.items() if draw.random() < chance]
            found.append(
                CastFacts(
                    number,
                    at,
                    mold="seat-pad",
                    mold_title="Seat pad",
                    material="foam",
                    lots=(("A", f"wf-a{lot}"), ("B", f"wf-b{lot // 2}")),
                    planned_g=62.0,
                    ratio_error=float(draw.normal(0, 0.006)),
                    mix_s=mix,
                    contact_to_pour_s=mix + float(draw.normal(25, 6)),
                    temperature_c=celsius,
                    humidity_percent=float(draw.normal(55, 8)),
                    mold_shot=number,
                    shots_since_release=1 + (number - 1) % 8,
                    pause_days=float(days),
                    cavity_cm3=CAVITY,
                    part_g=density * CAVITY,
                    trimmed=True,
                    density_g_cm3=density,
                    packing_factor=density / FREE_RISE,
                    verdict=Verdict.SCRAP if kinds else Verdict.GOOD,
                    defects=tuple(Defect(kind, Severity.CLEAR) for kind in kinds),
                    material_title="Flexible foam",
                    mixed_g=mixed,
                )
            )
        return found
