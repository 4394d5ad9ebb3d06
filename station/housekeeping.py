"""Housekeeping: the chores that may come late. Alarms never do: they fire from the bench loop's own clock.

The scheduler follows the wall clock and drops or delays jobs when that steps; for a daily backup or a check this
does not matter. Each chore also runs at once, for a station that is switched on only now and then.

Memory that is free inside the process goes back to the system all the time: a start and the pages leave 3 MB of it in
pieces, which the C library keeps for later.
"""

from __future__ import annotations

import ctypes
import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

from apscheduler.events import EVENT_JOB_ERROR, JobExecutionEvent
from apscheduler.executors.pool import ThreadPoolExecutor
from apscheduler.schedulers.background import BackgroundScheduler

from station.clock import SystemClock
from station.errors import StationError

log = logging.getLogger("tarebell.housekeeping")

GIVES_BACK_S = 20


@contextmanager
def housekeeping(
    end: Callable[[BaseException], object], *chores: Callable[[], object]
) -> Iterator[BackgroundScheduler]:
    """Run the chores in the background, in turn, now and every hour, until the block ends.

    `end` is told the bug that a chore met, if any.
    """

    def all_in_turn() -> None:
        for chore in chores:
            chore()

    scheduler = BackgroundScheduler(
        timezone="UTC",
        job_defaults={"coalesce": True, "misfire_grace_time": None},
        # What comes often has a thread of its own, for a check of a long record takes minutes.
        executors={name: ThreadPoolExecutor(1, {"thread_name_prefix": "chores"}) for name in ("default", "often")},
    )
    # One job that is due now, not a second that runs once: taking that one off again fails while the scheduler ends.
    due = SystemClock().now().wall
    scheduler.add_job(all_in_turn, "interval", hours=1, id="every hour", max_instances=1, next_run_time=due)
    scheduler.add_job(give_back, "interval", seconds=GIVES_BACK_S, id="memory", executor="often", max_instances=1)

    def failed(event: JobExecutionEvent) -> None:
        """A disk that does not do its part is tried again next time; anything else is a bug, as everywhere."""
        if isinstance(event.exception, StationError | OSError):
            log.error("chore failed what=%s why=%s", event.job_id, event.exception)
        else:
            event.exception.add_note(f"It was met by the chore {event.job_id!r}.")
            end(event.exception)

    scheduler.add_listener(failed, EVENT_JOB_ERROR)
    scheduler.start()
    try:
        yield scheduler
    finally:
        scheduler.shutdown(wait=True)


def give_back() -> None:
    """Have the C library give its free memory back to the system, which takes 0.05 ms; nothing where it has no call."""
    with suppress(AttributeError):
        ctypes.CDLL(None).malloc_trim(0)
