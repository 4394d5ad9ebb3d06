"""Which threads must live as long as the station: all that run when it is ready, but those that are done some day."""

from __future__ import annotations

import threading

PASSING = ("errand", "measuring limit")
"""How the names of threads begin that end by themselves: a search or check, the limit of a measuring."""


class ThreadEnded(RuntimeError):
    """A thread that must live has ended. A bug, whatever made it end."""

    def __init__(self, name: str) -> None:
        super().__init__(f"The thread {name!r} has ended while the station runs.")


def lasting() -> tuple[threading.Thread, ...]:
    """The threads of this process that must go on. A new thread belongs to them without anybody's doing."""
    return tuple(thread for thread in threading.enumerate() if not thread.name.startswith(PASSING))


def ended(thread: threading.Thread) -> bool:
    """Whether a thread that was started is over.

    On a busy machine a thread that has just been started is listed by `lasting` and not alive yet; it is no ended one.
    """
    return not thread.is_alive() and thread not in threading.enumerate()
