"""Housekeeping: the chores that may come late. Alarms never do: they fire from the bench loop's own clock.

The scheduler follows the wall clock and drops or delays jobs when that steps; for a daily backup or a check this
does not matter. Each chore also runs at once, for a station that is switched on only now and then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from apscheduler.schedulers.background import BackgroundScheduler


@contextmanager
def housekeeping(*chores: Callable[[], object]) -> Iterator[BackgroundScheduler]:
    """Run the chores in the background, in turn, now and every hour, until the block ends."""

    def all_in_turn() -> None:
        for chore in chores:
            chore()

    scheduler = BackgroundScheduler(timezone="UTC", job_defaults={"coalesce": True, "misfire_grace_time": None})
    scheduler.add_job(all_in_turn, id="at once")
    scheduler.add_job(all_in_turn, "interval", hours=1, id="every hour", max_instances=1)
    scheduler.start()
    try:
        yield scheduler
    finally:
        scheduler.shutdown(wait=True)
