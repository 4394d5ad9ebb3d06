"""Two lots on a shelf and what the record says of one, kept in memory. All of it is invented."""

from __future__ import annotations

from datetime import UTC, date, datetime

from station.core.judging_events import Verdict
from station.core.mass import ZERO, Mass
from station.lot_records import LotCast, LotCount, LotRecord
from station.phone.lot_view import LotLine, LotSeen
from station.records import Stage, When

G = Mass.grams
LOTS = (
    LotLine("Foam (invented)", "A", "FA-1", G("572.4"), G(240), date(2026, 2, 16), date(2026, 12, 31), True, ()),
    LotLine("Foam (invented)", "A", "FA-2", None, None, None, None, False, ("A, lot FA-2: nobody knows <how much>.",)),
)
AT = When(datetime(2026, 3, 2, 9, 14, tzinfo=UTC), True)
UNSURE = When(AT.wall, False)
CASTS = (
    LotCast(9, AT, "Seat <pad>", "Foam (invented)", "A", G("120.4"), Stage.IN_MOLD),
    LotCast(8, UNSURE, "Footbed", "Foam (invented)", "A", ZERO, Stage.GIVEN_UP),
    LotCast(7, AT, "Footbed", "Foam (invented)", "A", G("90"), Stage.LOST),
    LotCast(5, AT, "Seat <pad>", "Foam (invented)", "A", G("121"), Stage.DEMOLDED, Verdict.GOOD),
)


class SmallStock:
    """Implements `phone.stock_pages.Stock`; `asked` keeps what it was asked for."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, int | None]] = []

    def lots(self) -> tuple[LotLine, ...]:
        return LOTS

    def lot(self, number: str, *, before: int | None = None) -> LotSeen:
        self.asked.append((number, before))
        shelf = tuple(line for line in LOTS if line.number == number)
        if number != "FA-1":
            return LotSeen(shelf, LotRecord(number, (), ()), None)
        counts = (LotCount(AT, G("700.5"), "page (phone)"),)
        return LotSeen(shelf, LotRecord(number, CASTS, counts, older=before is None), G("572.4"))
