"""Starts: how often the station has crashed of late, from a few lines that each start and each orderly end leaves.

Five crashes in ten minutes ask for safe mode: what the bench can do without is left out, for it may be what crashes.
An orderly stop forgets them, and so do ten minutes without a crash or a boot.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from station.core.moment import Moment
from station.errors import LedgerFault
from station.keeping import append_line, replace_whole
from station.texts import N_, Phrase

log = logging.getLogger("tarebell.starts")

CRASHES = 5
WINDOW_S = 600.0
FILE = "starts"
_GOES_ON = N_(
    "Weighing, clocks, alarms, the record and the page go on; nothing is spoken, no mesh is measured, "
    "no message goes to a phone, and other benches are not asked."
)
_HOW_TO_LEAVE = N_("Stop the station and start it again to leave safe mode.")


class Kind(Enum):
    """What a line tells."""

    BEGUN = "begun"
    ENDED = "ended"


@dataclass(frozen=True, slots=True)
class Mark:
    """The station began, or came to an orderly end, `boot_s` seconds after the boot `boot_id`."""

    kind: Kind
    boot_id: str
    boot_s: float


@dataclass(frozen=True, slots=True)
class Safe:
    """Safe mode: the parts that the bench can do without stay off. `words` say why, and how to leave it."""

    words: Phrase


def safe_mode(crashed: int, asked_for: bool = False) -> Safe | None:
    """Whether this start is one in safe mode."""
    if crashed >= CRASHES:
        text = N_("Safe mode, because the station crashed {crashed} times within {minutes} minutes.")
        why = Phrase(text, crashed=str(crashed), minutes=f"{WINDOW_S / 60:.0f}")
    elif asked_for:
        why = Phrase(N_("Safe mode, because it was asked for."))
    else:
        return None
    return Safe(Phrase("{why} {what} {how}", why=why, what=Phrase(_GOES_ON), how=Phrase(_HOW_TO_LEAVE)))


def crashes(marks: Sequence[Mark], now: Moment) -> int:
    """How many starts of the last ten minutes followed a crash; `marks` are of one boot, in order."""
    count = 0
    before = None
    for mark in marks:
        if mark.kind is Kind.ENDED:
            count = 0
        elif before is Kind.BEGUN and now.boot_s - mark.boot_s <= WINDOW_S:
            count += 1
        before = mark.kind
    return count


def unclean(marks: Sequence[Mark], *, runs: bool) -> int:
    """How many of the starts since the last orderly end came to no orderly end; `runs`: the last one still runs."""
    since = worth_keeping(marks)
    return max(0, len(since) - 1) if runs else len(since)


def worth_keeping(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """What may still count: the starts since the last orderly end, one more than the crashes that matter."""
    since: list[Mark] = []
    for mark in marks:
        since = [] if mark.kind is Kind.ENDED else [*since, mark]
    return tuple(since[-CRASHES - 1 :])


class Starts:
    """The lines, in the first of `folders` that can be written. What lies in any of them counts."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self._files = [folder / FILE for folder in folders]
        self._file: Path | None = None

    def begun(self, now: Moment) -> int:
        """Note a start; how many crashes there have been of late. Where nothing can be noted, that is logged."""
        # A folder that could be written only for a while holds some of what another one holds.
        known = _marks(self._files, now.boot_id)
        marks = [*known, Mark(Kind.BEGUN, now.boot_id, now.boot_s)]
        self._file = _first_written(self._files, "\n".join(map(_line, worth_keeping(marks))) + "\n")
        return crashes(marks, now)

    def ended(self, now: Moment) -> None:
        """Note an orderly end."""
        if self._file is None:
            return
        try:
            append_line(self._file, _line(Mark(Kind.ENDED, now.boot_id, now.boot_s)))
        except LedgerFault as fault:
            log.warning("the orderly end is not noted and will count as a crash why=%s", fault)


def marks_in(folders: Iterable[Path], boot_id: str) -> list[Mark]:
    """What starts and ends of this boot have left in any of the folders, in order. Nothing is raised."""
    return _marks([folder / FILE for folder in folders], boot_id)


def _marks(files: Iterable[Path], boot_id: str) -> list[Mark]:
    known = {mark for file in files for mark in _read(file) if mark.boot_id == boot_id}
    return sorted(known, key=lambda mark: mark.boot_s)


def _first_written(files: Iterable[Path], text: str) -> Path | None:
    why = "no folder is given"
    for file in files:
        try:
            replace_whole(file, text)
        except LedgerFault as fault:
            why = str(fault)
        else:
            return file
    log.warning("starts cannot be noted, so that crashes lead to no safe mode why=%s", why)
    return None


def _line(mark: Mark) -> str:
    return f"{mark.kind.value} {mark.boot_id} {mark.boot_s:.3f}"


def _read(file: Path) -> list[Mark]:
    """The marks in a file; none when it cannot be read. A torn line is none."""
    try:
        lines = file.read_text("ascii", errors="replace").splitlines()
    except OSError:
        return []
    return [mark for line in lines if (mark := _mark(line)) is not None]


def _mark(line: str) -> Mark | None:
    match line.split():
        case [("begun" | "ended") as kind, boot_id, boot_s]:
            try:
                return Mark(Kind(kind), boot_id, float(boot_s))
            except ValueError:
                return None
    return None
