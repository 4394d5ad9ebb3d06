"""The desk of the record: backups by night and on request, copies away from the card, checks, and restoring."""

from __future__ import annotations

import logging
import shutil
import threading
from collections.abc import Callable
from concurrent.futures import TimeoutError as NoAnswer
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from station.config import BackupSettings
from station.core.messages import Restored
from station.core.moment import Moment
from station.core.snapshot import BannerKind, Snapshot
from station.core.standing import Standing
from station.core.wording import restored_words
from station.errors import LedgerFault, Refused
from station.inbox import Inbox
from station.notices import Notices
from station.phone.record_view import LITTLE_SPACE, BackupLine, RecordView
from station.ports import TimeSource
from station.record_words import copied_words, done_words, left_words, whole_words
from station.store.backup.carrying import brought_words, carried_words, gone_words, trouble_at
from station.store.backup.copies import copy_away, sticks
from station.store.backup.due import NIGHT, due, nothing_left_the_card
from station.store.backup.left import Left, last_left, note_left
from station.store.backup.packing import Backup
from station.store.backup.shelf import BackupShelf
from station.store.scribe import Scribe
from station.store.walker import Walk
from station.store.written import Written
from station.texts import t

log = logging.getLogger("tarebell.record")

_SOON_S = 5.0


@dataclass(frozen=True, slots=True)
class RecordTools:
    """What the desk works with. `standing` and `seen` give the bench's present state; `walk` checks the record."""

    settings: BackupSettings
    scribe: Scribe
    shelf: BackupShelf
    clock: TimeSource
    inbox: Inbox
    notices: Notices
    standing: Callable[[], Standing]
    seen: Callable[[], Snapshot | None]
    walk: Walk


class RecordDesk:
    """Implements `phone.record_view.RecordDesk`, and holds the chores that the record needs."""

    def __init__(self, tools: RecordTools) -> None:
        self._tools = tools
        self._state_dir = tools.shelf.belongings.state_dir
        self._written = Written()
        self._one_at_a_time = threading.Lock()
        self._checked = ""
        self._checked_at_s = float("-inf")

    def view(self) -> RecordView:
        """How the record fares now."""
        health, seen = self._tools.scribe.health(), self._tools.seen()
        left = last_left(self._tools.shelf.folder)
        restored = self._tools.standing().restored
        return RecordView(
            damage=health.damage,
            rescue="" if health.rescue is None else health.rescue.words(),
            unsaved=0 if seen is None else seen.unsaved,
            restored="" if restored is None else restored_words(restored),
            backups=[line_of(one) for one in self._tools.shelf.all()],
            left="" if left is None else left_words(left.at, left.where),
            checked=self._checked,
            free=self._free(),
            written=list(self._written.by_day(self._tools.clock.now().wall.date()).items())[:7],
            left_at=None if left is None else left.at,
        )

    def back_up(self, by: str, why: str = "") -> str:
        """Make a backup and copy it away; without a person, `why` says the occasion. Raises LedgerFault."""
        if self._tools.scribe.health().damage:
            raise Refused(t("The record is damaged, and no backup is made of it."), t("Restore it first."))
        try:
            backup = self._tools.shelf.make(self._tools.clock.now(), why if not by else t("asked for by {by}", by=by))
        except LedgerFault:
            self.check_record()  # what makes no good backup may be damaged
            raise
        self._tools.scribe.rows_are_safe(backup.label.rows)
        reached = f"{carried_words(self._tools.shelf)} {self._copies(backup)}".strip()
        return t(
            "Backup made: {rows} rows, read back and whole. {reached}", rows=backup.label.rows, reached=reached
        ).strip()

    def restore(self, by: str) -> str:
        """Restore the damaged record; the bench is told, and writes down what waits. Raises LedgerFault."""
        with self._one_at_a_time:
            done = self._tools.scribe.restore(self._tools.clock.now())
        aside = "" if done.set_aside is None else done.set_aside.name
        self.tell_damage()
        # Waited for, so that the page that is shown next knows of it; it comes, even if not in time for that.
        with suppress(NoAnswer):
            self._tools.inbox.ask(Restored(done.rows, done.lost, done.base, aside, by)).result(_SOON_S)
        return f"{done_words(done.rows, done.lost)} {brought_words(self._tools.shelf)}".rstrip()

    def taken(self, name: str, by: str) -> Path:
        """The file of this backup, on its way to a device. Raises Refused when there is none of that name."""
        backup = next((one for one in self._tools.shelf.all() if one.file.name == name), None)
        if backup is None:
            raise Refused(t("There is no backup {name}.", name=repr(name)), t("Load the page Record again."))
        self._note_left(backup, by)
        return backup.file

    def tell_damage(self) -> None:
        """Put the damage on every page, or take it down."""
        damage = self._tools.scribe.health().damage
        words = t("{damage} The bench goes on from memory.", damage=damage) if damage else ""
        self._tools.notices.put("damage", BannerKind.RECORD, words, t("Restore it"))

    # Chores: each may come late, none may end the station.

    def daily_backup(self) -> None:
        """A backup if one is due and nobody pours just now."""
        scribe, now = self._tools.scribe, self._tools.clock.now()
        seen = self._tools.seen()
        newest = next(iter(self._tools.shelf.all()), None)
        label = None if newest is None else newest.label
        try:
            if scribe.health().damage or (seen is not None and seen.bench is not None):
                return
            if due(label, scribe.end_row(), now):
                log.info("%s", self.back_up("", t("daily")))
            elif newest is not None:
                self._copies(newest)
        except LedgerFault as fault:
            self._tools.notices.put(
                "backup", BannerKind.RECORD, t("No backup could be made. {fault}", fault=fault.sentence())
            )
            log.error("no backup why=%s", fault)
        else:
            self._tools.notices.put("backup", BannerKind.RECORD, "")
        self._nag(now)

    def daily_check(self) -> None:
        """Check the record if that is due and nobody pours just now. A card may forget what nobody has touched."""
        seen, now = self._tools.seen(), self._tools.clock.now()
        if now.boot_s - self._checked_at_s >= NIGHT.total_seconds() and (seen is None or seen.bench is None):
            self.check_record()

    def check_record(self) -> bool:
        """Read the whole record and walk its chain; a damaged one is left alone from then on. True when it is whole."""
        # A verdict on the file before a restoring must not be passed on the file after it.
        with self._one_at_a_time:
            return self._check_record()

    def _check_record(self) -> bool:
        scribe = self._tools.scribe
        if scribe.health().damage:
            return False
        now = self._tools.clock.now()
        try:
            verdict = self._tools.walk(self._tools.shelf.belongings.record)
            of_photos = gone_words(self._tools.shelf) if verdict.ok else ""
        except LedgerFault as fault:
            log.error("record not checked why=%s", fault)
            return False
        of_traces = verdict.traces.words()
        when = f"{now.wall:%Y-%m-%d %H:%M} UTC"
        self._checked = f"{whole_words(verdict.rows, when)} {of_traces} {of_photos}".rstrip()
        if verdict.traces.damaged:
            log.warning("traces damaged words=%r", of_traces)
        if not verdict.ok:
            self._checked = ""
            scribe.damaged(t("The record is damaged. {why}", why=verdict.words))
            self.tell_damage()
        self._checked_at_s = now.boot_s
        return verdict.ok

    def check_space(self) -> bool:
        """Warn while little space is left. True when there is enough."""
        self._written.by_day(self._tools.clock.now().wall.date())
        free = self._free()
        words = ""
        if free is not None and free < LITTLE_SPACE:
            words = t(
                "Only {free} MiB are free on the card. Free some space before it is full.", free=free // 1024 // 1024
            )
            log.warning("little space left free_mb=%d in=%s", free // 1024 // 1024, self._state_dir)
        self._tools.notices.put("space", BannerKind.RECORD, words)
        return not words

    def _free(self) -> int | None:
        try:
            return shutil.disk_usage(self._state_dir).free
        except OSError:
            return None

    def _copies(self, backup: Backup) -> str:
        """Copy it to every stick and folder; what came of it."""
        places = (*self._tools.settings.copies, *(sticks() if self._tools.settings.sticks else ()))
        told: list[str] = []
        troubles: list[str] = []
        for place in places:
            try:
                away = copy_away(backup, place, self._state_dir)
            except LedgerFault as fault:
                troubles.append(t("No copy went to {place}: {fault}", place=place, fault=fault.sentence()))
                log.error("no copy place=%s why=%s", place, fault)
                continue
            troubles.extend(filter(None, (trouble_at(self._tools.shelf, place),)))
            told.append(copied_words(str(place), off_card=away.off_card))
            if away.off_card:
                self._note_left(backup, str(place))
        self._tools.notices.put("copies", BannerKind.RECORD, " ".join(troubles))
        return " ".join((*told, *troubles))

    def _note_left(self, backup: Backup, where: str) -> None:
        known = last_left(self._tools.shelf.folder)
        if known is not None and known.rows == backup.label.rows and known.where == where:
            return
        try:
            note_left(self._tools.shelf.folder, Left(self._tools.clock.now().wall, backup.label.rows, where))
        except LedgerFault as fault:
            log.warning("not noted that a copy left why=%s", fault)
        self._nag(self._tools.clock.now())

    def _nag(self, now: Moment) -> None:
        left, oldest = last_left(self._tools.shelf.folder), self._tools.shelf.all()[-1:]
        words = nothing_left_the_card(None if left is None else left.at, oldest[0].label.made if oldest else None, now)
        self._tools.notices.put("left", BannerKind.RECORD, words)


def line_of(backup: Backup) -> BackupLine:
    """The backup as a list shows it."""
    label = backup.label
    try:
        size = backup.file.stat().st_size
    except OSError:
        size = 0
    return BackupLine(backup.file.name, label.made, label.sure, label.rows, size, label.why)
