"""A book of facts for pages: the casts of Wrenfield Works, an invented workshop, made up by chance with a seed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.insight.facts import CastFacts
from station.records import Known
from tests.insight.made import DAY, cast


def year(count: int = 60, seed: int = 4) -> tuple[CastFacts, ...]:
    """Casts of two molds and two lots, in which short mixing makes soft spots and one cast went quite wrong."""
    luck = np.random.default_rng(seed)
    found = []
    for number in range(1, count + 1):
        mix_s = float(luck.normal(60, 5))
        soft = bool(luck.random() < (0.7 if mix_s < 56 else 0.05))
        flash = bool(luck.random() < 0.15)
        kinds = [kind for kind, had in ((DefectKind.SOFT_SPOT, soft), (DefectKind.FLASH, flash)) if had]
        part_g = float(luck.normal(520, 6)) + (45 if number == 41 else 0)
        found.append(
            cast(
                number,
                begun=DAY + timedelta(days=2 * number),
                mold="grip" if number % 3 == 0 else "pad",
                mold_title="Paddle grip" if number % 3 == 0 else "Kayak seat pad",
                material_title="Seat foam",
                lots=(("A", f"WF-{1 + number // 21}"), ("B", "WF-9")),
                mix_s=mix_s,
                contact_to_pour_s=mix_s + float(luck.normal(25, 3)),
                ratio_error=float(luck.normal(0.001, 0.006)),
                shot_g=part_g + 8,
                part_g=part_g,
                cavity_cm3=1293.0,
                density_g_cm3=part_g / 1293,
                temperature_c=float(luck.normal(20, 4)),
                verdict=Verdict.SCRAP if soft else Verdict.USABLE if flash else Verdict.GOOD,
                defects=tuple(Defect(kind, Severity.CLEAR) for kind in kinds),
            )
        )
    return tuple(found)


class SmallBook:
    """Implements `phone.insight_typed.FactBook`."""

    def __init__(self, casts: Sequence[CastFacts] = ()) -> None:
        self.casts = tuple(casts)

    def facts(
        self,
        *,
        mold: str = "",
        material: str = "",
        last: int = 60,
        since: datetime | None = None,
        until: datetime | None = None,
    ) -> Sequence[CastFacts]:
        found = [
            one
            for one in self.casts
            if mold in ("", one.mold)
            and material in ("", one.material)
            and (since is None or one.begun >= since)
            and (until is None or one.begun < until)
        ]
        return found[-last:]

    def molds(self) -> Sequence[Known]:
        return sorted({Known(one.mold, one.mold_title) for one in self.casts}, key=lambda one: one.title)

    def materials(self) -> Sequence[Known]:
        return sorted({Known(one.material, one.material_title) for one in self.casts}, key=lambda one: one.title)


def marked_up(count: int = 12) -> SmallBook:
    """A book whose every text looks like markup."""
    return SmallBook(
        [
            replace(one, mold_title="<b>mold</b>", material_title="<i>foam</i>", lots=(("<u>A</u>", "<s>1</s>"),))
            for one in year(count)
        ]
    )
