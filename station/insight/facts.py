"""Facts of one cast that was poured: what may have mattered, and how the part came out. Never who did it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from station.core.judging_events import Defect, HardnessScale, Verdict


class Hardness(NamedTuple):
    """A reading of hardness in the scale in which it was read, 0…100; scales are never converted."""

    scale: HardnessScale
    value: float
    place: str


@dataclass(frozen=True, slots=True)
class CastFacts:
    """One cast that was poured into its mold, at one station. None is unknown, never zero.

    `begun` is the wall time (UTC). `mold` and `material` are the keys of their sheets. `lots`: (component, lot).
    `shot_g` is what went into the mold: the mix less what stayed in its cup, None when that cup was not weighed;
    `mixed_g` is the mix, `planned_g` the mix that was planned. `ratio_error` is (actual B/A) / (planned B/A) - 1 by
    weight, of several components the farthest from zero. `mix_s` and `contact_to_pour_s` are seconds.
    `temperature_c` and `humidity_percent` are those of the room. `mold_shot` counts this mold's pours up to this one,
    `shots_since_release` those since its release agent was last renewed, this one included. `pause_days` have gone by
    since the pour before, in whatever mold. `cavity_cm3` is the mold's, `part_g` the part's mass, `trimmed` or as it
    came out. `density_g_cm3` = part_g / cavity_cm3; `packing_factor` is that over the material's free-rise density.
    `cure_s` is how long it was in its mold, in plain seconds at whatever temperature that was.
    `shrinkage` is a fraction, (mold - part) / mold. `verdict` and `defects` are the latest that were given.
    """

    number: int
    begun: datetime
    mold: str
    mold_title: str
    material: str
    lots: tuple[tuple[str, str], ...] = ()
    shot_g: float | None = None
    planned_g: float | None = None
    ratio_error: float | None = None
    mix_s: float | None = None
    contact_to_pour_s: float | None = None
    temperature_c: float | None = None
    humidity_percent: float | None = None
    mold_shot: int = 1
    shots_since_release: int | None = None
    pause_days: float | None = None
    cavity_cm3: float | None = None
    part_g: float | None = None
    trimmed: bool | None = None
    density_g_cm3: float | None = None
    packing_factor: float | None = None
    hardness: tuple[Hardness, ...] = ()
    shrinkage: float | None = None
    verdict: Verdict | None = None
    defects: tuple[Defect, ...] = ()
    material_title: str = ""
    mixed_g: float | None = None
    cure_s: float | None = None
