"""Profiles: what was found out about scales, in one small file beside the record; the newest is in force."""

from __future__ import annotations

import contextlib
import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from station.config import ScaleSettings
from station.errors import ScaleFault
from station.keeping import replace_whole
from station.scale.delivery import Delivery
from station.scale.finding.outcome import Profile
from station.texts import t

FOUND = "found"
"""The setting `port` for the scale that was found last."""

_FILE = "scale.json"


class Profiles:
    """The profiles in the state folder, by port."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / _FILE

    def save(self, profile: Profile) -> None:
        """Keep a profile and put it in force. Raises LedgerFault; the file then is as it was."""
        kept = {port: row for port, row in self._rows().items() if port != profile.port}
        rows = {**kept, profile.port: _row(profile)}  # the newest comes last
        replace_whole(self._file, json.dumps(rows, indent=1))

    def newest(self) -> Profile | None:
        """The profile in force; None when no scale was found yet or the file cannot be read."""
        rows = self._rows()
        for port, row in reversed(rows.items()):
            with contextlib.suppress(KeyError, TypeError, ValueError):
                return _profile(port, row)
        return None

    def in_force(self, settings: ScaleSettings) -> ScaleSettings:
        """The settings, with those of the newest profile where they say `found`. Raises ScaleFault when there is
        none."""
        if settings.port != FOUND:
            return settings
        profile = self.newest()
        if profile is None:
            hint = t("Run `tarebell scale find`, or open Scale on the page.")
            raise ScaleFault(t("No scale was found yet."), hint)
        return replace(
            settings,
            port=profile.port,
            family=profile.family,
            baud=profile.baud,
            character=profile.character,
            unit=profile.unit,
            request=profile.request,
            worth=Decimal(profile.worth),
        )

    def _rows(self) -> dict[str, Any]:
        try:
            rows = json.loads(self._file.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return rows if isinstance(rows, dict) else {}


def _row(profile: Profile) -> dict[str, Any]:
    return {
        "family": profile.family,
        "baud": profile.baud,
        "character": profile.character,
        "delivery": profile.delivery.value,
        "request": None if profile.request is None else profile.request.decode("latin-1"),
        "unit": profile.unit,
        "worth": profile.worth,
        "sure": list(profile.sure),
    }


def _profile(port: str, row: dict[str, Any]) -> Profile:
    return Profile(
        port=port,
        family=str(row["family"]),
        baud=int(row["baud"]),
        character=str(row["character"]),
        delivery=Delivery(row["delivery"]),
        request=None if row["request"] is None else str(row["request"]).encode("latin-1"),
        unit=None if row["unit"] is None else str(row["unit"]),
        worth=str(Decimal(row["worth"])),
        sure=tuple(map(str, row["sure"])),
    )
