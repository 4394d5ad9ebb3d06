"""The desk of papers and exports, for the pages: what may be asked for, each made by a process of its own."""

from __future__ import annotations

import shutil
import tempfile
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Final

from station.confined.making import make
from station.core.snapshot import Snapshot
from station.errors import LedgerFault, Refused
from station.export.about import RULES
from station.export.tables import TABLES
from station.export_desk.in_hand import ExportInHand
from station.export_desk.label_wish import LabelWish, On
from station.paper.label_sizes import SIZES
from station.phone.paper_view import Choice, ExportView
from station.phone.record_view import LITTLE_SPACE
from station.store.archive import Archive
from station.store.copying import size_of
from station.store.faults import told_as_faults
from station.store.photos import FOLDER
from station.texts import N_, t

CHILD: Final = "station.export_desk.child"
ALL: Final = "all"
BARE: Final = "all-without-photos"
"""What may be asked for besides a year."""
_PATIENCE_S: Final = 20.0
_PAPER_S: Final = 60.0
_TIMES: Final = 3
"""So many times the record's size an export may take while it is made."""


@dataclass(frozen=True, slots=True)
class PaperTools:
    """What the desk works with. `addresses` are where phones find the page, `seen` is the bench's last state,
    `child` the module that makes papers and exports."""

    archive: Archive
    name: str
    version: str
    addresses: Callable[[], Sequence[str]]
    seen: Callable[[], Snapshot | None]
    child: str = CHILD


class PaperDesk:
    """Implements `phone.paper_view.PaperDesk`."""

    def __init__(self, tools: PaperTools) -> None:
        self._tools = tools
        self._place = Path(tools.archive.place)
        self._folder = self._place.parent / FOLDER
        self._one_paper = threading.Lock()
        self._in_hand = ExportInHand(self._place.parent, tools.child)

    # --- papers

    def record(self, number: int, address: str) -> IO[bytes]:
        """The record of a cast as PDF. Raises Refused or Fault."""
        return self._paper({"do": "record", "number": number, "address": (*self.addresses(), address)[0]})

    def labels(self, number: int, typed: Mapping[str, str], address: str) -> IO[bytes]:
        """Labels of a cast as PDF. Raises WrongField or Fault."""
        wish = {"on": "part", "size": SIZES[0].key, "copies": "1", "start": "1"}
        wish |= {name: typed[name] for name in wish if name in typed}
        LabelWish.of(wish["on"], wish["size"], wish["copies"], wish["start"])
        known = (*self.addresses(), address)
        leads = typed.get("at", "")
        return self._paper({"do": "labels", "number": number, "address": leads if leads in known else known[0], **wish})

    def kinds(self) -> Sequence[Choice]:
        """What labels are stuck on."""
        return [Choice(on.name.lower(), t(on.value)) for on in On]

    def sizes(self) -> Sequence[Choice]:
        """The sizes of labels."""
        return [Choice(size.key, size.words()) for size in SIZES]

    def addresses(self) -> Sequence[str]:
        """Where a code may lead."""
        return self._tools.addresses()

    def _paper(self, job: dict[str, Any]) -> IO[bytes]:
        if not self._one_paper.acquire(timeout=_PATIENCE_S):
            raise Refused(t("Other papers are still being made."), t("Wait a moment, then try again."))
        try:
            out = tempfile.TemporaryFile()  # noqa: SIM115  # the caller closes it
            try:
                make(self._tools.child, self._job(job), out, wall_s=_PAPER_S)
            except BaseException:
                out.close()
                raise
        finally:
            self._one_paper.release()
        out.seek(0)
        return out

    # --- exports

    def years(self) -> Sequence[int]:
        """The years in which something was cast, the newest first."""
        return self._tools.archive.years()

    def about(self) -> Sequence[tuple[str, str, Sequence[tuple[str, str, str]]]]:
        """The tables of an export."""
        return [
            (one.name, t(one.words), [(each.name, t(each.kind.value), t(each.words)) for each in one.columns])
            for one in TABLES
        ]

    def rules(self) -> Sequence[str]:
        """What holds for all of them."""
        return [t(rule) for rule in RULES]

    def state(self) -> ExportView:
        """The export in hand."""
        return self._in_hand.state()

    def begin(self, what: str) -> None:
        """Begin an export. Raises Refused while another is being made, somebody casts, or there is no room."""
        asked, name = self._asked(what)
        self._may_begin(self._photos() if asked.get("with_photos") else 0)
        self._in_hand.begin(name, lambda room: self._job(asked, room))

    def stop(self) -> None:
        """Let go of the export in hand, made or not."""
        self._in_hand.stop()

    def made(self) -> tuple[str, IO[bytes]]:
        """Name and content of the export that was made. Raises Refused when there is none."""
        return self._in_hand.made()

    def _asked(self, what: str) -> tuple[dict[str, Any], str]:
        if what in (ALL, BARE):
            return {"do": "export", "with_photos": what == ALL}, "tarebell-export.zip"
        if what.isascii() and what.isdigit() and len(what) == 4 and int(what) in self.years():
            return {"do": "year", "year": int(what)}, f"tarebell-{what}.zip"
        raise Refused(t("There is no such export."), t("Choose one of the list."))

    def photos_mib(self) -> float:
        """What the photos of all casts add to an export of the whole log, MiB; 0 when there are none."""
        return self._photos() / 2**20

    def _photos(self) -> int:
        """Bytes of all photos."""
        with told_as_faults(self._folder):
            return sum(one.stat().st_size for one in self._folder.glob("*.jpg"))

    def _may_begin(self, photos: int) -> None:
        seen = self._tools.seen()
        if seen is not None and seen.bench is not None:
            raise Refused(
                t("A cast is at the bench, and the card is needed for it."), t("Try it when the bench is free.")
            )
        try:
            free, needed = shutil.disk_usage(self._place.parent).free, _TIMES * size_of(self._place) + photos
        except OSError as why:
            raise LedgerFault(t("The card cannot be read ({why}).", why=why.strerror)) from why
        if free < needed + LITTLE_SPACE:
            text = N_("The card is too full for an export: {free} MiB are free, {needed} MiB are needed.")
            words = t(text, free=free // 2**20, needed=(needed + LITTLE_SPACE) // 2**20)
            raise Refused(words, t("Make room on the card, or export with `tarebell export` onto a stick."))

    def _job(self, job: dict[str, Any], room: Path | None = None) -> dict[str, Any]:
        shop = {"name": self._tools.name, "photos": str(self._folder)}
        address = next(iter(self.addresses()), "")
        known = {"place": str(self._place), "room": str(room or self._place.parent), "version": self._tools.version}
        return {"address": address, **shop, **known, **job}
