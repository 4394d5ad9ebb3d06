"""Pedal and big button: one contact that bounces, read as short and long presses.

Our own debounce: the first edge counts at once, what follows within 50 ms does not, and after that the
true level is looked at again, so that neither a short tap nor a release is lost in the bouncing.
"""

from __future__ import annotations

import logging
import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from types import TracebackType

from station.core.messages import Press
from station.ports import TimeSource

log = logging.getLogger("tarebell.signals")

BOUNCE_S = 0.05


@dataclass(frozen=True, slots=True)
class Contact:
    """Down since when (None: up), when it last changed, and whether this press has been told as long."""

    down_since_s: float | None = None
    changed_s: float = float("-inf")
    told: bool = False


def on_edge(contact: Contact, down: bool, at_s: float, long_s: float) -> tuple[Contact, Press | None]:
    """The contact after an edge. A long press counts by when the foot left, however late that is dealt with."""
    contact, long = _waited(contact, at_s, long_s)
    contact, press = _moved(contact, down, at_s)
    return contact, long or press


def on_look(contact: Contact, down: bool, at_s: float, long_s: float) -> tuple[Contact, Press | None]:
    """The contact after its level was looked at; a long press is told when its time is reached, not at its end."""
    contact, press = _moved(contact, down, at_s)
    return (contact, press) if press is not None else _waited(contact, at_s, long_s)


def _moved(contact: Contact, down: bool, at_s: float) -> tuple[Contact, Press | None]:
    if down == (contact.down_since_s is not None) or at_s - contact.changed_s < BOUNCE_S:
        return contact, None
    if down:
        return Contact(at_s, at_s), None
    return Contact(None, at_s), None if contact.told else Press.SHORT


def _waited(contact: Contact, at_s: float, long_s: float) -> tuple[Contact, Press | None]:
    if contact.down_since_s is None or contact.told or at_s - contact.down_since_s < long_s:
        return contact, None
    return replace(contact, told=True), Press.LONG


def next_look_s(contact: Contact, at_s: float, long_s: float) -> float | None:
    """Seconds until it must be looked at again; None: only an edge matters."""
    looks = []
    if at_s - contact.changed_s < BOUNCE_S:
        looks.append(contact.changed_s + BOUNCE_S - at_s)
    if contact.down_since_s is not None and not contact.told:
        looks.append(contact.down_since_s + long_s - at_s)
    return max(0.001, min(looks)) if looks else None


class PressReader:
    """A thread that turns edges into presses. `level` tells whether the contact is closed right now."""

    def __init__(
        self, clock: TimeSource, long_s: float, level: Callable[[], bool], told: Callable[[Press], None]
    ) -> None:
        self._clock, self._long_s, self._level, self._told = clock, long_s, level, told
        self._edges: queue.SimpleQueue[tuple[bool, float] | None] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._run, name="press")

    def edge(self, down: bool) -> None:
        """The contact has just closed or opened. Returns at once."""
        self._edges.put((down, self._clock.now().boot_s))

    def __enter__(self) -> PressReader:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._edges.put(None)
        self._thread.join()

    def _run(self) -> None:
        contact = Contact()
        while True:
            now = self._clock.now().boot_s
            try:
                edge = self._edges.get(timeout=next_look_s(contact, now, self._long_s))
            except queue.Empty:
                contact, press = on_look(contact, self._looked(contact), self._clock.now().boot_s, self._long_s)
            else:
                if edge is None:
                    return
                contact, press = on_edge(contact, *edge, self._long_s)
            if press is not None:
                self._told(press)

    def _looked(self, contact: Contact) -> bool:
        try:
            return self._level()
        except Exception as why:  # the pin libraries have errors of their own, some of them plain Exceptions
            # What the last edge said stands, so that the pedal goes on working from its edges.
            log.error("contact cannot be read why=%s", why)
            return contact.down_since_s is not None
