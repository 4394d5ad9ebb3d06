"""The desk of papers and exports as one running station has it."""

from __future__ import annotations

from collections.abc import Callable

from station import __version__
from station.address.own import page_addresses
from station.board import Board
from station.config import Settings
from station.export_desk.desk import PaperDesk, PaperTools
from station.store.archive import Archive


def paper_desk(settings: Settings, archive: Archive, board: Board, port: Callable[[], int]) -> PaperDesk:
    """The desk; `port` is known only when the page is open."""

    def addresses() -> list[str]:
        return [one.url for one in page_addresses(settings, port())]

    return PaperDesk(PaperTools(archive, settings.name, __version__, addresses, board.latest))
