"""Last words of a process that hangs: said if they can be, and never waited for.

A thread may hang because nobody takes what it writes to the log. It then holds the log's lock, and whoever wants
to say that it hangs would hang as well.
"""

from __future__ import annotations

import faulthandler
import logging
import sys
import threading
from collections.abc import Callable

log = logging.getLogger("tarebell.watchdog")

_WITHIN_S = 2.0


def said(level: int, words: str) -> None:
    """Put `words` into the log; come back when that is done, or after two seconds."""
    _tried(lambda: log.log(level, "%s", words))


def where_all_stand() -> None:
    """Print where in the program every thread is; come back when that is done, or after two seconds."""
    _tried(lambda: faulthandler.dump_traceback(sys.__stderr__ or sys.stderr))


def _tried(act: Callable[[], object]) -> None:
    thread = threading.Thread(target=act, name="last words", daemon=True)
    thread.start()
    thread.join(_WITHIN_S)
