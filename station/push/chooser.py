"""The chooser: the owner of what people have chosen about messages. Everybody else reads frozen values of it."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from station.addresses import MOST_ADDRESSES, Address, wrong_with
from station.core.matters import Occasion
from station.core.moment import Moment
from station.core.quiet import QuietHours, quiet_at
from station.errors import LedgerFault, Refused
from station.push.kept import Choices, keep_choices, read_choices
from station.texts import N_, t

log = logging.getLogger("tarebell.push")

FIXED_HINT: Final = N_("Take it out of the settings file and start the station again.")


class Chooser:
    """From any thread. `fixed` are the addresses of the settings; they come first. `trouble`: why nothing was read."""

    def __init__(self, folder: Path, fixed: Sequence[str]) -> None:
        self._folder, self._lock = folder, threading.Lock()
        self._fixed = tuple(Address(url, fixed=True) for url in dict.fromkeys(fixed))
        self.trouble = ""
        self.changed: Callable[[], None] = lambda: None
        chosen = Choices()
        try:
            chosen = read_choices(folder)
        except LedgerFault as fault:
            self.trouble = fault.sentence()
            log.error("choices about messages not read why=%s", fault)
        known = {address.url for address in self._fixed}
        own = tuple(address for address in chosen.addresses if address.url not in known)
        self._choices = replace(chosen, addresses=(*self._fixed, *own))

    def now(self) -> Choices:
        """What is chosen."""
        return self._choices

    def quiet(self, now: Moment) -> bool:
        """Whether quiet hours hold at this moment. Never waits."""
        return quiet_at(self._choices.quiet, now)

    def may_add(self, url: str) -> None:
        """Raises Refused, which never repeats the address, when it cannot be added as things stand."""
        wrong = wrong_with(url)
        if wrong:
            raise Refused(wrong)
        there = self._choices.addresses
        if any(one.url == url for one in there):
            raise Refused(t("Messages go to that address already."))
        if len(there) >= MOST_ADDRESSES:
            raise Refused(t("There are {most} addresses already.", most=MOST_ADDRESSES), t("Remove one first."))

    def add(self, url: str) -> Address:
        """Add an address. Raises Refused, which never repeats it, and LedgerFault when it cannot be kept."""
        address = Address(url)
        with self._lock:
            self.may_add(url)
            self._keep(replace(self._choices, addresses=(*self._choices.addresses, address)))
        return address

    def remove(self, key: str) -> None:
        """Remove an address by its key. Raises Refused, LedgerFault."""
        with self._lock:
            address = self._address(key)
            if address.fixed:
                raise Refused(t("This address stands in the settings file."), FIXED_HINT)
            rest = tuple(one for one in self._choices.addresses if one is not address)
            self._keep(replace(self._choices, addresses=rest))

    def choose(self, occasions: frozenset[Occasion]) -> None:
        """From now on messages are sent on these occasions. Raises LedgerFault."""
        with self._lock:
            self._keep(replace(self._choices, occasions=occasions))

    def be_quiet(self, hours: QuietHours | None) -> None:
        """From now on these are the quiet hours. Raises LedgerFault."""
        with self._lock:
            self._keep(replace(self._choices, quiet=hours))

    def address(self, key: str) -> Address:
        """The address of this key. Raises Refused when there is none."""
        return self._address(key)

    def _address(self, key: str) -> Address:
        found = next((one for one in self._choices.addresses if one.key == key), None)
        if found is None:
            raise Refused(t("That address is not in use any more."), t("Load the page again."))
        return found

    def _keep(self, choices: Choices) -> None:
        keep_choices(self._folder, choices)
        self._choices, self.trouble = choices, ""
        self.changed()
