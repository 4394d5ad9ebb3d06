"""Lines of every frame family with their meaning, and where each was published.

`wire_lines.jsonl` has one line an entry; its `source` says whether the line is printed in a manual, in a public
driver or a field log, or constructed from a documented layout. `raw` is the bytes as characters, one to one.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from station.scale.decoded import Frame
from station.scale.units import GRAMS_PER

_FILE = Path(__file__).with_name("wire_lines.jsonl")
_SAID_UNITS = frozenset(GRAMS_PER) | {"pcs", "pct"}


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a line says; `unit` is None for units beyond the station's list."""

    value: str | None
    unit: str | None
    grams: Decimal | None
    stable: bool | None
    kind: str
    mode: str | None


@dataclass(frozen=True, slots=True)
class Published:
    """One line on the wire."""

    family: str
    raw: bytes
    meaning: Meaning
    source: str


def meaning_of(frame: Frame) -> Meaning:
    """What the station made of a line, in the terms of the published meanings."""
    return Meaning(
        None if frame.value is None else f"{frame.value:f}",
        frame.unit if frame.unit in _SAID_UNITS else None,
        frame.grams,
        frame.stable,
        frame.kind.value,
        None if frame.mode is None else frame.mode.value,
    )


def _entry(text: str) -> Published:
    row = json.loads(text)
    grams = None if row["grams"] is None else Decimal(row["grams"])
    meaning = Meaning(row["value"], row["unit"], grams, row["stable"], row["kind"], row["mode"])
    return Published(row["family"], row["raw"].encode("latin-1"), meaning, row["source"])


PUBLISHED = tuple(_entry(text) for text in _FILE.read_text(encoding="utf-8").splitlines())
