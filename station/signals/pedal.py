"""Pedal and big button: one contact that bounces, read as short and long presses.

Our own debounce: the first edge counts at once, what follows within 50 ms does not, and after that the
true level is looked at again, so that neither a short tap nor a release is lost in the bouncing.

A contact may also be held on, far beyond a long press. That is no press and no affair of the bench: it asks
for the door (`Held`), and the release after it tells nothing. So of a contact that can be held a long press is
told only at its end: until then nobody knows which of both it will be.
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
HELD_S = 10.0


class Held:
    """The contact was held for ten seconds."""


HELD = Held()
Told = Press | Held


@dataclass(frozen=True, slots=True)
class Times:
    """From when on a press is long, and from when on it is held (None: this contact cannot be), in seconds."""

    long_s: float
    held_s: float | None = None


@dataclass(frozen=True, slots=True)
class Contact:
    """Down since when (None: up), when it last changed, and how far this press has come (None: it still is short)."""

    down_since_s: float | None = None
    changed_s: float = float("-inf")
    reached: Told | None = None


def on_edge(contact: Contact, down: bool, at_s: float, times: Times) -> tuple[Contact, tuple[Told, ...]]:
    """The contact after an edge. A long press counts by when the foot left, however late that is dealt with."""
    contact, waited = _waited(contact, at_s, times)
    contact, moved = _moved(contact, down, at_s, times)
    return contact, waited + moved


def on_look(contact: Contact, down: bool, at_s: float, times: Times) -> tuple[Contact, tuple[Told, ...]]:
    """The contact after its level was looked at; a pedal's long press is told when its time is reached."""
    contact, moved = _moved(contact, down, at_s, times)
    return (contact, moved) if moved else _waited(contact, at_s, times)


def _moved(contact: Contact, down: bool, at_s: float, times: Times) -> tuple[Contact, tuple[Told, ...]]:
    if down == (contact.down_since_s is not None) or at_s - contact.changed_s < BOUNCE_S:
        return contact, ()
    if down:
        return Contact(at_s, at_s), ()
    if contact.reached is None:
        return Contact(None, at_s), (Press.SHORT,)
    owed = contact.reached is Press.LONG and times.held_s is not None
    return Contact(None, at_s), (Press.LONG,) if owed else ()


def _waited(contact: Contact, at_s: float, times: Times) -> tuple[Contact, tuple[Told, ...]]:
    told: tuple[Told, ...] = ()
    while (due := _next_reached(contact, times)) is not None and at_s >= due[0]:
        contact = replace(contact, reached=due[1])
        if due[1] is HELD or times.held_s is None:
            told = (*told, due[1])
    return contact, told


def _next_reached(contact: Contact, times: Times) -> tuple[float, Told] | None:
    """When this press comes to what next, if it stays down."""
    if contact.down_since_s is None:
        return None
    if contact.reached is None:
        return contact.down_since_s + times.long_s, Press.LONG
    if contact.reached is HELD or times.held_s is None:
        return None
    return contact.down_since_s + times.held_s, HELD


def next_look_s(contact: Contact, at_s: float, times: Times) -> float | None:
    """Seconds until it must be looked at again; None: only an edge matters."""
    looks = []
    if at_s - contact.changed_s < BOUNCE_S:
        looks.append(contact.changed_s + BOUNCE_S - at_s)
    if (due := _next_reached(contact, times)) is not None:
        looks.append(due[0] - at_s)
    return max(0.001, min(looks)) if looks else None


class PressReader:
    """A thread that turns edges into presses. `level` tells whether the contact is closed right now."""

    def __init__(
        self, clock: TimeSource, times: Times, level: Callable[[], bool], told: Callable[[Told], None]
    ) -> None:
        self._clock, self._times, self._level, self._told = clock, times, level, told
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
                edge = self._edges.get(timeout=next_look_s(contact, now, self._times))
            except queue.Empty:
                contact, told = on_look(contact, self._looked(contact), self._clock.now().boot_s, self._times)
            else:
                if edge is None:
                    return
                contact, told = on_edge(contact, *edge, self._times)
            for each in told:
                self._told(each)

    def _looked(self, contact: Contact) -> bool:
        try:
            return self._level()
        except Exception as why:  # the pin libraries have errors of their own, some of them plain Exceptions
            # What the last edge said stands, so that the pedal goes on working from its edges.
            log.error("contact cannot be read why=%s", why)
            return contact.down_since_s is not None
