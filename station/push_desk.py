"""The desk of the messages: joins what is true at the bench with the thread that sends; what the page talks to."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from concurrent.futures import TimeoutError as NoAnswer
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from station.config import PushSettings
from station.core.matters import Matter, Occasion, alarm_matters
from station.core.part_matters import part_matters
from station.core.quiet import QuietHours
from station.core.snapshot import Snapshot
from station.core.standing import Standing
from station.errors import Fault, LedgerFault, Refused
from station.phone.push_view import AddressLine, PushView, Tried
from station.ports import TimeSource
from station.push.attempt import understood
from station.push.chooser import Chooser
from station.push.kept import Fared
from station.push.outbox import Stage, waiting_for
from station.push.pusher import Pusher, Source
from station.push.signs import Sign, signs_of
from station.records import Asked
from station.store.archive import Archive
from station.store.backup.due import none_for_a_week
from station.store.backup.shelf import BackupShelf
from station.store.scribe import Scribe
from station.texts import t

log = logging.getLogger("tarebell.push")

TEST_WITHIN_S: Final = 20.0


@dataclass(frozen=True, slots=True)
class PushTools:
    """What the desk works with. `note` is told a lasting sentence while the last message has reached nobody."""

    scribe: Scribe
    shelf: BackupShelf
    archive: Archive
    standing: Callable[[], Standing]
    seen: Callable[[], Snapshot | None]
    title: str
    note: Callable[[str], None]


class PushDesk:
    """Implements `phone.push_view.PushDesk`, and knows when it is quiet."""

    def __init__(self, settings: PushSettings, state_dir: Path, clock: TimeSource) -> None:
        self._chooser = Chooser(state_dir, settings.addresses)
        self._state_dir, self._clock = state_dir, clock
        self._pusher: Pusher | None = None
        self._no_backup = ""

    def quiet(self) -> bool:
        """Whether quiet hours hold now. Never waits."""
        return self._chooser.quiet(self._clock.now())

    @contextmanager
    def sending(self, tools: PushTools) -> Iterator[None]:
        """Send messages in a thread until the block ends."""

        def signs() -> dict[Sign, str]:
            seen = tools.seen()
            return {} if seen is None else signs_of(seen, tools.scribe.health().damage, self._no_backup)

        def matters() -> tuple[Matter, ...]:
            standing = tools.standing()
            return (*alarm_matters(standing), *part_matters(standing, self._clock.now()))

        self._pusher = Pusher(
            chooser=self._chooser,
            source=Source(matters, signs),
            clock=self._clock,
            title=tools.title,
            folder=self._state_dir,
            note=tools.note,
        )
        with self._pusher:
            yield

    def look_for_backup(self, tools: PushTools) -> None:
        """A chore: whether a backup was made of late. It may come late; it must come after the one that makes one."""
        newest = next(iter(tools.shelf.all()), None)
        try:
            first = _first_cast(tools.archive) if newest is None else None
        except LedgerFault as fault:
            log.warning("not known whether a backup is missing why=%s", fault)
            return
        label = None if newest is None else newest.label
        self._no_backup = none_for_a_week(label, tools.scribe.end_row(), first, self._clock.now())

    def view(self) -> PushView:
        """How the messages fare now."""
        choices, pusher = self._chooser.now(), self._pusher
        letters = () if pusher is None else pusher.letters
        fared = {} if pusher is None else pusher.said.fared
        lines = []
        for address in choices.addresses:
            how = fared.get(address.key, Fared())
            lines.append(
                AddressLine(
                    key=address.key,
                    label=address.label,
                    fixed=address.fixed,
                    waiting=waiting_for(letters, address.key),
                    given_up=sum(one.to == address.key and one.stage is Stage.GIVEN_UP for one in letters),
                    good=how.good,
                    good_sure=how.good_sure,
                    bad=how.bad,
                    bad_sure=how.bad_sure,
                    why=how.why,
                )
            )
        now = self._clock.now()
        return PushView(
            lines, choices.occasions, choices.quiet, self._chooser.quiet(now), now.trusted, self._chooser.trouble
        )

    def add(self, url: str, by: str) -> None:
        """Send messages to this address too. Raises Refused, which never repeats it, and LedgerFault."""
        self._chooser.may_add(url)
        verdict = understood(url)
        if not verdict.good:
            raise Refused(t("{words} Nothing was added.", words=verdict.words))
        address = self._chooser.add(url)
        log.info("address of messages added key=%s by=%s", address.key, by)

    def remove(self, key: str, by: str) -> None:
        """Send none there any more. Raises Refused, LedgerFault."""
        self._chooser.remove(key)
        log.info("address of messages removed key=%s by=%s", key, by)

    def choose(self, occasions: frozenset[Occasion], by: str) -> None:
        """From now on messages are sent on these occasions. Raises LedgerFault."""
        self._chooser.choose(occasions)
        log.info("occasions of messages=%s by=%s", sorted(one.name for one in occasions), by)

    def be_quiet(self, hours: QuietHours | None, by: str) -> None:
        """From now on these are the quiet hours. Raises LedgerFault."""
        self._chooser.be_quiet(hours)
        log.info("quiet hours=%s by=%s", hours, by)

    def test(self, key: str, by: str) -> Tried:
        """Send a test message there and wait a little for what comes of it. Raises Refused."""
        address = self._chooser.address(key)
        if self._pusher is None:
            raise Fault(t("No message is sent just now."), t("Try again when the station has started."))
        log.info("test message to=%s by=%s", key, by)
        try:
            verdict = self._pusher.test(address).result(TEST_WITHIN_S)
        except NoAnswer:
            words = t(
                "{address} has not answered yet. Look at this page again in half a minute.", address=address.label
            )
            return Tried(False, words)
        if verdict.good:
            return Tried(True, t("{address} took the test message. Is it on your phone?", address=address.label))
        return Tried(False, t("{address} failed. {words}", address=address.label, words=verdict.words))


def _first_cast(archive: Archive) -> datetime | None:
    """When the first cast was begun; None when there is none, or the clock was not trusted then. Raises LedgerFault."""
    first = archive.page(Asked(), after=0, limit=1).lines
    return first[0].begun.wall if first and first[0].begun.sure else None
