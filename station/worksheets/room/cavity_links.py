"""Where one goes on from a volume that is known: to the batch, or the shot of foam, that fills it."""

from __future__ import annotations

from collections.abc import Mapping

from station.texts import t
from station.worksheets.plain import plain


def filled_with(cavity_cm3: float) -> Mapping[str, str]:
    """Links to the worksheets that take the volume of a cavity, with it filled in."""
    cm3 = plain(cavity_cm3, 6)
    return {
        f"/work/batch?volume={cm3}": t("Batch that fills it"),
        f"/work/foam?cavity={cm3}": t("Shot of foam for it"),
    }
