"""Snapshots in the middle of a led pour: of a cast, and of a practice with water."""

from __future__ import annotations

from dataclasses import replace

from station.core.lead import Lead
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.practice_state import Practice
from station.core.snapshot import ColumnView, CueView, Fill, Snapshot
from tests.phone.shown import FREE, G, with_net

PRACTICE = Practice(
    G("50.0"), G("49.0"), G("51.0"), 5, ScaleCard(Mass.grams("0.1"), Mass.grams(3000)), "phone", G("30.0"), (G("50.4"),)
)
WATER = ColumnView("Water", "", G("50.0"), G("49.0"), G("51.0"), G("31.5"), Fill.UNDER, False, "", Lead.EASE, 0.3)
PRACTISING = replace(FREE, practice=PRACTICE, practice_column=WATER)


def led(seq: int, pace: float | None, lead: Lead = Lead.SLOW, cue: CueView | None = None, **more: object) -> Snapshot:
    """The bench while a pour is led."""
    seen = with_net("96.2", Fill.NEAR, seq)
    assert seen.bench is not None
    assert seen.bench.column is not None
    bench = replace(seen.bench, column=replace(seen.bench.column, lead=lead, pace=pace))
    return replace(seen, bench=bench, last_cue=cue or seen.last_cue, **more)  # type: ignore[arg-type]
