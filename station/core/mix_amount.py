"""Amount: how much mix a cast takes, and how that came about."""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass


@dataclass(frozen=True, slots=True)
class Amount:
    """Mass of mix, how it came about in the person's own numbers, and what there is to say of it in this mold.

    `warnings` tell that the part may fail or the mold may open; `notes` only explain.
    """

    total: Mass
    rule: str
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
