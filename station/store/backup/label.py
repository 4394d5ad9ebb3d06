"""The label of a backup: the small JSON text in it that says what else is in it and what it must look like."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Any, Final

from station.errors import LedgerFault
from station.texts import t

FORM: Final = 1
"""Version of the backup's own form."""


@dataclass(frozen=True, slots=True)
class Label:
    """What a backup says of itself.

    `rows` journal rows ending with `digest`, the first of digest `first`, by which one history is told from another;
    `made` in UTC, `sure` when that wall clock was trusted; `files` gives the SHA-256 (FIPS 180-4) of every file in
    it; `version` is the station's, `why` the occasion.
    """

    made: datetime
    sure: bool
    rows: int
    first: str
    digest: str
    version: str
    why: str
    files: Mapping[str, str]

    def text(self) -> str:
        """As JSON."""
        return json.dumps(asdict(self) | {"form": FORM, "made": self.made.isoformat()}, indent=1, sort_keys=True)


def read_label(text: str | bytes) -> Label:
    """The label from its text. Raises LedgerFault when it is none, or of a newer form."""
    try:
        content: dict[str, Any] = json.loads(text)
        form = int(content["form"])
        if form > FORM:
            raise LedgerFault(
                t("The backup was made by a newer version of the station."), t("Install that version first.")
            )
        made = datetime.fromisoformat(content["made"]).astimezone(UTC)
        files = {str(name): str(digest) for name, digest in content["files"].items()}
        return Label(
            made,
            bool(content["sure"]),
            int(content["rows"]),
            str(content["first"]),
            str(content["digest"]),
            str(content["version"]),
            str(content["why"]),
            files,
        )
    except (ValueError, TypeError, KeyError, AttributeError) as why:
        raise LedgerFault(t("The label of the backup cannot be read."), t("Take another backup.")) from why
