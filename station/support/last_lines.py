"""The last lines of the log in memory, each without any text that it was given: numbers stay, words become dots.

A line may have been given a code, a device's name or an address with a password. What the program itself says in it
tells a helper enough, and holds no secret.
"""

from __future__ import annotations

import logging
import threading
import traceback
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from numbers import Real
from pathlib import Path

MOST_LINES = 400
MOST_LENGTH = 600
OWN = "tarebell"
"""Only loggers of this program are known to give texts as values, not within their words."""
_DEPTH = 12


class LastLines(logging.Handler):
    """Keeps the last lines of every logger that it is added to. From any thread."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self._lines: deque[str] = deque(maxlen=MOST_LINES)
        self._guard = threading.Lock()

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a line; none is worth an exception here."""
        try:
            line = bare(record)[:MOST_LENGTH]
        except (TypeError, ValueError, KeyError):
            line = f"{record.levelname} {record.name} (a line that cannot be formed)"
        with self._guard:
            self._lines.append(line)

    def lines(self) -> tuple[str, ...]:
        """The lines, the oldest first."""
        with self._guard:
            return tuple(self._lines)


@contextmanager
def last_lines() -> Iterator[LastLines]:
    """The last lines of every logger from now on, until this is left."""
    kept, root = LastLines(), logging.getLogger()
    root.addHandler(kept)
    try:
        yield kept
    finally:
        root.removeHandler(kept)


def bare(record: logging.LogRecord) -> str:
    """A line of the log with its own words, and with only such values as hold no text."""
    words = str(record.msg)
    if not record.name.startswith(OWN):
        words, record = "(said by a library)", _without_args(record)
    if isinstance(record.args, dict):
        words %= {name: _bare(value) for name, value in record.args.items()}
    elif record.args:
        words %= tuple(_bare(value) for value in record.args)
    at = datetime.fromtimestamp(record.created, UTC)
    fault = "" if record.exc_info is None or record.exc_info[1] is None else f" {_fault(record.exc_info[1])}"
    return f"{at:%Y-%m-%d %H:%M:%S} {record.levelname} {record.name} {' '.join(words.split())}{fault}"


def _without_args(record: logging.LogRecord) -> logging.LogRecord:
    return logging.makeLogRecord(record.__dict__ | {"args": None})


def _bare(value: object) -> object:
    if value is None or isinstance(value, Real):
        return value
    if isinstance(value, BaseException):
        return type(value).__name__
    return "…"


def _fault(error: BaseException) -> str:
    """Which error, and through which lines it came; not what it says."""
    steps = traceback.extract_tb(error.__traceback__)[-_DEPTH:]
    where = " < ".join(f"{Path(step.filename).name}:{step.lineno} {step.name}" for step in reversed(steps))
    return f"[{type(error).__name__}: {where}]"
