"""What is said of the messages: how each address fared, what was sent for good, and that one reached nobody."""

from __future__ import annotations

import logging
from collections.abc import Callable, Collection, Mapping
from dataclasses import replace
from pathlib import Path

from station.core.moment import Moment
from station.errors import LedgerFault
from station.push.kept import Fared, Sent, keep_sent, read_sent
from station.push.outbox import DONE, Letters, Stage
from station.push.verdict import Verdict
from station.texts import t

log = logging.getLogger("tarebell.push")


class Said:
    """Belongs to the pusher's thread; `fared` is a frozen value that any thread may read."""

    def __init__(self, folder: Path, note: Callable[[str], None]) -> None:
        self._folder, self._note = folder, note
        kept = Sent()
        try:
            kept = read_sent(folder)
        except LedgerFault as fault:
            log.error("what was sent is not known, so it may be sent again why=%s", fault)
        self.done = kept.done
        """What earlier runs were done with."""
        self.fared: Mapping[str, Fared] = dict(kept.fared)
        self._written = kept
        self._before = kept.done
        self._words: dict[str, str] = {}
        self._failed = False

    def came_of(self, to: str, verdict: Verdict, now: Moment) -> None:
        """Note what came of an attempt at an address."""
        before = self.fared.get(to, Fared())
        if verdict.good:
            after = replace(before, good=now.wall, good_sure=now.trusted)
            self._note("")
        else:
            after = replace(before, bad=now.wall, bad_sure=now.trusted, why=verdict.words)
        self.fared = {**self.fared, to: after}

    def look(self, letters: Letters, words: Mapping[str, str], to: Collection[str]) -> None:
        """Say so when a matter has reached nobody, and keep what is done with, if that has changed."""
        self._words |= {key: text for key, text in words.items() if text}
        for key in unreached(self._before, letters):
            unheard = self._words.get(key, key)
            self._note(t("No message got through: nobody away from the bench was told “{words}”", words=unheard))
        self._before = letters
        if not to:
            self._note("")
        self._words = {key: text for key, text in self._words.items() if any(one.matter == key for one in letters)}
        self.fared = {key: one for key, one in self.fared.items() if key in to}
        now = Sent(
            tuple(replace(one, tries=0, due_s=0.0) for one in letters if one.stage in DONE), tuple(self.fared.items())
        )
        if now != self._written:
            self._keep(now)

    def _keep(self, now: Sent) -> None:
        # Noted as written even when it was not: a full card is not asked again each second.
        self._written = now
        try:
            keep_sent(self._folder, now.done, now.fared)
            self._failed = False
        except LedgerFault as fault:
            if not self._failed:
                log.error("what was sent is not kept, so a restart may send it again why=%s", fault)
            self._failed = True


def unreached(before: Letters, after: Letters) -> tuple[str, ...]:
    """The matters that have just turned out to have reached nobody: given up, or over while every attempt failed."""
    found = []
    for key in dict.fromkeys(one.matter for one in before):
        was, left = ([one for one in letters if one.matter == key] for letters in (before, after))
        if all(one.stage is Stage.GIVEN_UP for one in was):
            continue  # said before
        over = not left and all(one.tries and one.stage is not Stage.SENT for one in was)
        if over or (left and all(one.stage is Stage.GIVEN_UP for one in left)):
            found.append(key)
    return tuple(found)
