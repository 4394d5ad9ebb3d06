"""Housekeeping: the chores that may come late. Alarms never do: they fire from the bench loop's own clock.

The scheduler follows the wall clock and drops or delays jobs when that steps; for a nightly check this
does not matter.
"""

from __future__ import annotations

import logging
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from apscheduler.events import EVENT_JOB_ERROR, JobExecutionEvent
from apscheduler.schedulers.background import BackgroundScheduler

from station.errors import LedgerFault, StationError
from station.store.verify import verify

log = logging.getLogger("tarebell.housekeeping")

LITTLE_SPACE = 200 * 1024 * 1024


@contextmanager
def housekeeping(
    record: Path | str, state_dir: Path, end: Callable[[BaseException], object]
) -> Iterator[BackgroundScheduler]:
    """Run the chores in the background until the block ends. `end` is told the bug that a chore met, if any."""
    scheduler = BackgroundScheduler(timezone="UTC", job_defaults={"coalesce": True, "misfire_grace_time": None})
    scheduler.add_job(check_record, "interval", hours=24, args=[record], id="check the record")
    scheduler.add_job(check_space, "interval", hours=1, args=[state_dir], id="check free space")

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
        scheduler.shutdown(wait=False)


def check_record(record: Path | str) -> bool:
    """Walk the chain once; say in the log what is wrong with it. True when it is whole."""
    try:
        verdict = verify(record)
    except LedgerFault as fault:
        log.error("record not checked why=%s", fault)
        return False
    if not verdict.ok:
        log.error("record damaged seq=%s why=%s", verdict.seq, verdict.words)
    return verdict.ok


def check_space(state_dir: Path) -> bool:
    """Warn in the log while little space is left. True when there is enough."""
    free = shutil.disk_usage(state_dir).free
    if free < LITTLE_SPACE:
        log.warning("little space left free_mb=%d in=%s", free // 1024 // 1024, state_dir)
    return free >= LITTLE_SPACE
