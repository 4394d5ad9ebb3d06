"""The owner of the page Station: asks every part how it fares, and does the little that may be asked for there."""

from __future__ import annotations

import logging
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from station.address.code import svg
from station.address.reach import Address
from station.config import Settings
from station.core.snapshot import Snapshot
from station.errors import Refused, StationError
from station.overview.papers import card_paper, wiring_paper
from station.phone.station_view import AddressLine, Fare, Paper, Part
from station.support.bundle import Told, bundle, system
from station.support.told_files import told_files
from station.support.told_settings import told_settings
from station.texts import t

log = logging.getLogger("tarebell.overview")

Source = Callable[[], Part | None]
"""How one part fares now; None: this station has no such part. It may raise a StationError."""
MOST_ADDRESSES = 6


@dataclass(frozen=True, slots=True)
class OverviewTools:
    """What the desk works with. `seen` gives the bench's present state, `sources` the parts by title, in their order.

    `about` are figures of the program, `checks` those of the scale, `lines` the last ones of the log, `sound` tries
    the buzzer, `secrets` are texts that must not be told.
    """

    settings: Settings
    seen: Callable[[], Snapshot | None]
    sources: Callable[[], Mapping[str, Source]]
    addresses: Callable[[], Sequence[Address]]
    sound: Callable[[], object]
    about: Callable[[], Mapping[str, object]]
    checks: Callable[[], Sequence[Mapping[str, object]]] = tuple
    lines: Callable[[], Sequence[str]] = tuple
    secrets: Callable[[], Collection[str]] = field(default=tuple, repr=False)


class OverviewDesk:
    """Implements `phone.station_view.StationDesk`. Called from many threads at once; keeps nothing."""

    def __init__(self, tools: OverviewTools) -> None:
        self._tools = tools

    def parts(self) -> Sequence[Part]:
        """How every part fares; one that cannot say so is one to look at."""
        found = []
        for title, source in self._tools.sources().items():
            try:
                part = source()
            except StationError as why:
                part = Part(title, Fare.LOOK, t("It does not tell how it fares. {why}", why=why.sentence()))
            if part is not None:
                found.append(part)
        return found

    def addresses(self) -> Sequence[AddressLine]:
        """Under which addresses a phone reaches the page, each with its code."""
        return [AddressLine(one.url, one.words, svg(one.url)) for one in self._tools.addresses()[:MOST_ADDRESSES]]

    def card(self) -> Paper:
        """What each tone, lamp and press of this bench means."""
        return card_paper(self._tools.settings)

    def wiring(self) -> Paper:
        """Which pin goes where, by the settings."""
        return wiring_paper(self._tools.settings)

    def sound(self) -> None:
        """Try the buzzer. Raises Refused while a cast is in hand or an alarm sounds."""
        seen = self._tools.seen()
        if seen is not None and seen.bench is not None:
            raise Refused(t("A cast is in hand: a test would be taken for a cue."), t("Try it when the bench is free."))
        if seen is not None and seen.alarms:
            raise Refused(t("An alarm sounds: that is test enough."), t("Acknowledge it first."))
        self._tools.sound()

    def bundle(self) -> bytes:
        """A zip for somebody who helps."""
        told = Told(
            about={**self._tools.about(), **system()},
            health=[(part.title, part.fare.value, part.words) for part in self.parts()],
            settings=told_settings(self._tools.settings),
            checks=self._tools.checks(),
            files=told_files(self._tools.settings.state_dir),
            log=self._tools.lines(),
            secrets=known_secrets(self._tools.settings, self._tools.secrets()),
        )
        log.info("support bundle made")
        return bundle(told)


def known_secrets(settings: Settings, others: Collection[str] = ()) -> Collection[str]:
    """Texts of these settings that a helper need not see, and `others`."""
    return (*_of(settings), *others)


def _of(settings: Settings) -> list[str]:
    places: list[Path] = [settings.state_dir.absolute(), *settings.backup.copies, *settings.sheets]
    shared = [] if settings.shared is None else [settings.shared.url, settings.shared.title]
    return [settings.name, *shared, *map(str, places)]
