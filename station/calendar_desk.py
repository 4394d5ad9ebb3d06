"""The desk of the calendar: dates of the casts that cure, as they are now, and the secret that leads to them."""

from __future__ import annotations

import hmac
import logging
import secrets
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from station.almanac.ics import as_ics
from station.almanac.issue import issued
from station.almanac.kept import Kept, keep, read
from station.core.cure_ends import CureEnd, cure_ends
from station.core.standing import Standing
from station.errors import Fault, LedgerFault, Refused
from station.ports import TimeSource
from station.texts import N_, t

log = logging.getLogger("tarebell.calendar")


class NoDates(Fault):
    """The station does not know the time, so it can give no dates."""

    hint = N_("Set the time on the page Time, or wait until a time service is heard.")


class CalendarDesk:
    """Implements `phone.calendar_view.CalendarDesk`."""

    def __init__(self, state_dir: Path, clock: TimeSource, standing: Callable[[], Standing], title: str) -> None:
        self._folder, self._clock, self._standing, self._title = state_dir, clock, standing, title
        self._lock = threading.Lock()
        self._kept = Kept()
        try:
            self._kept = read(state_dir)
        except LedgerFault as fault:
            log.error("the calendar begins anew why=%s", fault)

    def secret(self) -> str:
        """The secret part of the address. Raises LedgerFault."""
        with self._lock:
            if not self._kept.secret:
                self._keep(replace(self._kept, secret=secrets.token_urlsafe(24)))
            return self._kept.secret

    def renew(self, by: str) -> None:
        """Another secret. Raises LedgerFault."""
        with self._lock:
            self._keep(replace(self._kept, secret=secrets.token_urlsafe(24)))
        log.info("calendar has a new address by=%s", by)

    def feed(self, secret: str) -> str | None:
        """The calendar of all casts that cure. Raises NoDates."""
        known = self._kept.secret
        if not known or not hmac.compare_digest(known.encode(), secret.encode()):
            return None
        return self._text(None)

    def cast(self, number: int) -> str:
        """The calendar of one cast. Raises NoDates; Refused when it does not cure, or stands still."""
        return self._text(number)

    def why_not(self) -> str:
        """Why there are no dates just now."""
        return "" if self._clock.now().trusted else self._no_dates().sentence()

    def _text(self, number: int | None) -> str:
        now = self._clock.now()
        if not now.trusted:
            raise self._no_dates()
        ends = cure_ends(self._standing(), now)
        with self._lock:
            issues = issued(self._kept.issues, ends, now.wall)
            if issues != self._kept.issues:
                try:
                    self._keep(replace(self._kept, issues=issues))
                except LedgerFault as fault:
                    log.warning("dates given out are not kept why=%s", fault)
        if number is not None:
            ends = tuple(end for end in ends if end.number == number)
            _some(ends, number)
        return as_ics(ends, issues, now.wall, self._title)

    def _keep(self, kept: Kept) -> None:
        keep(self._folder, kept)
        self._kept = kept

    def _no_dates(self) -> NoDates:
        return NoDates(t("The station does not know the time, so there are no dates."))


def _some(ends: tuple[CureEnd, ...], number: int) -> None:
    if not ends:
        raise Refused(t("Cast {number} does not cure, so it has no dates.", number=number))
    if all(end.due is None for end in ends):
        raise Refused(
            t("The cure of cast {number} stands still, so it has no dates.", number=number),
            t("Warm it up as its sheet allows."),
        )
