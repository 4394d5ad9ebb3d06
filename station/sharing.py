"""Sharing: joins this bench's own record with the log that several benches share."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from station.config import SharedSettings
from station.core.clocks import ClockKind
from station.core.lanes import Lane
from station.core.messages import Acknowledge
from station.core.snapshot import Banner, BannerKind, Snapshot
from station.neighbours import Neighbourhood, Neighbours, SharedCast
from station.phone.benches_view import told_here
from station.ports import TimeSource
from station.store import journal
from station.store.archive import Archive
from station.store.batch_record import as_text
from station.store.chain import Row
from station.store.engines import open_reader
from station.store.faults import told_as_faults
from station.store.storable import storable

if TYPE_CHECKING:
    from station.benches.exchange import Exchange


class RecordFeed:
    """A `benches.feed.Feed` from the record at a path. Reads only."""

    def __init__(self, place: Path | str) -> None:
        self._place = place
        self._engine = open_reader(place)
        self._archive = Archive(place)

    def rows_after(self, seq: int, limit: int) -> Sequence[Row]:
        """The next rows of the journal. Raises LedgerFault."""
        with told_as_faults(self._place), self._engine.begin() as db:
            return journal.rows_after(db, seq, limit)

    def cast(self, number: int) -> SharedCast | None:
        """A cast with its whole batch record as text. Raises LedgerFault."""
        record = self._archive.record(number)
        if record is None:
            return None
        return SharedCast(
            bench=0,  # whose it is, the copy itself says
            number=number,
            begun=record.course.begun.wall,
            sure=record.course.begun.sure,
            material=storable(record.material),
            mold=storable(record.mold),
            total=record.planned_total,
            stage=record.stage.value,
            text=storable(as_text(record)),
        )

    def close(self) -> None:
        """Let go of the record."""
        self._archive.close()
        self._engine.dispose()


class Sharing:
    """What the other benches are to this one: a `phone.benches_pages.BenchesDesk`, and banners for its page."""

    def __init__(self, settings: SharedSettings, name: str, clock: TimeSource) -> None:
        self.settings = settings
        self.title = settings.title or name
        self.lane = Lane(settings.bench)
        self.neighbours = Neighbours(settings.bench, clock)
        self._clock = clock

    def latest(self) -> Neighbourhood:
        """The shared log as it was last read."""
        return self.neighbours.latest()

    def wish(self, to_bench: int, number: int, clock: ClockKind, by: str) -> None:
        """Wish that another bench acknowledge an alarm. Raises Refused when nobody can carry that now."""
        self.neighbours.wish(to_bench, number, clock, by)

    def banners(self) -> tuple[Banner, ...]:
        """What this bench's page says of the others. Never waits."""
        lines = told_here(self.neighbours.latest(), self._clock.now())
        return tuple(Banner(BannerKind.BENCHES, words) for words in lines)


@contextmanager
def exchanging(
    sharing: Sharing,
    clock: TimeSource,
    *,
    state_dir: Path,
    record: Path | str,
    seen: Callable[[], Snapshot | None],
    hand: Callable[[Acknowledge], Future[int | None]],
) -> Iterator[Exchange]:
    """Talk with the shared log in a thread until the block ends. Raises LedgerFault when the folder cannot be used."""
    # Only where a log is shared: PostgreSQL's dialect takes 3 MB that most stations have no use for.
    from station.benches.exchange import Exchange
    from station.benches.identity import Own, station_id
    from station.benches.server import Server

    feed = RecordFeed(record)
    try:
        exchange = Exchange(
            server=Server(sharing.settings.url),
            own=Own(sharing.settings.bench, station_id(state_dir), sharing.title),
            feed=feed,
            neighbours=sharing.neighbours,
            clock=clock,
            seen=seen,
            hand=hand,
        )
        with exchange:
            yield exchange
    finally:
        feed.close()
