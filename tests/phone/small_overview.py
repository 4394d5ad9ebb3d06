"""A station's pages with an overview whose parts a test writes itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from station.address.reach import Address
from station.config import ScaleSettings, Settings
from station.core.snapshot import Snapshot
from station.overview.desk import OverviewDesk, OverviewTools
from station.phone.station_view import Part
from tests.phone.shown import FREE, Station, opened_station

ADDRESSES = [Address("http://tarebell.local:8060/", "By its name.")] + [
    Address(f"http://192.0.2.{number}:8060/", "By its number.") for number in range(10, 17)
]


@dataclass
class Shop:
    """`parts` are values, or functions that give one, raise or give none."""

    parts: dict[str, Part | Callable[[], Part | None]]
    addresses: list[Address] = field(default_factory=lambda: list(ADDRESSES))
    sounded: int = 0
    station: Station = field(init=False)

    def sound(self) -> None:
        self.sounded += 1


@contextmanager
def overview(parts: dict[str, Part | Callable[[], Part | None]]) -> Iterator[Shop]:
    """A served overview; the bench is free."""
    shop = Shop(parts)

    def source(title: str) -> Part | None:
        part = shop.parts.get(title)
        return part() if callable(part) else part

    def seen() -> Snapshot | None:
        return shop.station.board.latest()

    tools = OverviewTools(
        Settings("Wrenfield Works", Path("/nowhere"), ScaleSettings("found", "")),
        seen,
        lambda: {title: partial(source, title) for title in parts},
        addresses=lambda: shop.addresses,
        sound=shop.sound,
        about=lambda: {"version": "test"},
    )
    with opened_station(overview=OverviewDesk(tools)) as shop.station:
        shop.station.post(FREE)
        yield shop
