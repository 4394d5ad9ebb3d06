"""What the pages of papers and exports are given: records and labels as PDF, and one export in the making at a time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import IO, Protocol

from station.texts import N_


class Making(Enum):
    """How far the export has come. The value is its name in words."""

    NONE = N_("none")
    MAKING = N_("being made")
    MADE = N_("made")
    FAILED = N_("not made")


@dataclass(frozen=True, slots=True)
class ExportView:
    """The export in hand. `name` is its file's, `casts` how many are done, `words` why it failed, `size` in bytes."""

    state: Making = Making.NONE
    name: str = ""
    casts: int = 0
    words: str = ""
    size: int = 0


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a list: what is sent for it, and its words."""

    key: str
    words: str


class PaperDesk(Protocol):
    """Called from many threads. Every refusal is a StationError."""

    def record(self, number: int, address: str) -> IO[bytes]:
        """The record of a cast as PDF. `address` is where the page was asked for, should the station know no other."""
        ...

    def labels(self, number: int, typed: Mapping[str, str], address: str) -> IO[bytes]:
        """Labels of a cast as PDF; `typed` are on, size, copies, start and at. Raises WrongField."""
        ...

    def kinds(self) -> Sequence[Choice]:
        """What labels are stuck on."""
        ...

    def sizes(self) -> Sequence[Choice]:
        """The sizes of labels."""
        ...

    def addresses(self) -> Sequence[str]:
        """Where a code may lead, the best first; empty when no phone can reach the page."""
        ...

    def years(self) -> Sequence[int]:
        """The years in which something was cast, the newest first."""
        ...

    def photos_mib(self) -> float:
        """What the photos of all casts add to an export of the whole log, MiB; 0 when there are none."""
        ...

    def about(self) -> Sequence[tuple[str, str, Sequence[tuple[str, str, str]]]]:
        """The tables of an export: name, words, and each column's name, kind and words."""
        ...

    def rules(self) -> Sequence[str]:
        """What holds for all of them, in sentences."""
        ...

    def state(self) -> ExportView:
        """The export in hand."""
        ...

    def begin(self, what: str) -> None:
        """Begin an export: `all`, `all-without-photos`, or a year."""
        ...

    def stop(self) -> None:
        """Let go of the export in hand, made or not."""
        ...

    def made(self) -> tuple[str, IO[bytes]]:
        """Name and content of the export that was made."""
        ...
