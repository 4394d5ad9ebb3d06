"""The practice as a column, like a weighing of a cast."""

from __future__ import annotations

from station.core.leading import lead_now, pace_now
from station.core.moment import Moment
from station.core.pan import Pan
from station.core.snapshot import ColumnView, Fill
from station.core.standing import Standing
from station.texts import t


def practice_column(standing: Standing, pan: Pan, now: Moment) -> ColumnView | None:
    """What is in the cup against what is wanted; None while no cup stands there or nothing is practised."""
    practice, gross = pan.practice, pan.gross
    if practice is None or practice.level is None or gross is None:
        return None
    net = gross - practice.level
    fill = Fill.UNDER if net < practice.low else Fill.IN_BAND if net <= practice.high else Fill.OVER
    lead, pace = lead_now(standing, pan, now), pace_now(standing, pan, now)
    settling = fill is Fill.IN_BAND
    return ColumnView(t("Water"), "", practice.target, practice.low, practice.high, net, fill, settling, "", lead, pace)
