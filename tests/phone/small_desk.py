"""A `phone.scale_desk.ScaleDesk` in memory: it shows what a test puts there and keeps what it is asked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date

from station.errors import StationError
from station.phone.scale_desk import Asks, CheckView, ErrandView, PortChoice
from tests.phone.shown import Station, opened_station

PORTS = (
    PortChoice("/dev/serial/by-id/usb-adapter-0417", "/dev/serial/by-id/usb-adapter-0417 (/dev/ttyUSB0)"),
    PortChoice("/dev/ttyUSB1", "/dev/ttyUSB1", "Its name may change when another adapter is plugged in."),
)
RUNNING = ErrandView(
    "Finding the scale on /dev/ttyUSB1",
    ("Listening on /dev/ttyUSB1 for 3 s, without sending anything.", "Put something on the pan."),
)
YES_NO = replace(RUNNING, question="The scale should now show 123.4 g. Does it?", asks=Asks.YES_NO)
TEXT = ErrandView(
    "Checking the scale",
    ("'5oo' is no mass.",),
    "What does the check weight weigh, as written on it? (as in 500 g)",
    Asks.TEXT,
)
GOOD = replace(RUNNING, good=True, outcome="Found: status-commas at 9600 baud.\nThe unit was confirmed.")
NOT_GOOD = replace(RUNNING, good=False, outcome="No scale was found.\nLikeliest causes:\nThe cable is a wrong one.")


def checked(on: str, due: str, **more: object) -> CheckView:
    """A check with a repeatability of 0.05 g and an error of +0.12 g."""
    seen = CheckView(
        on=date.fromisoformat(on),
        due=date.fromisoformat(due),
        verdict="fit with limits",
        reasons=("Below 12.3 g it is not good to 1 %.",),
        scale="/dev/ttyUSB1",
        temperature_c=21.5,
        repeatability_g=0.05,
        error_g=0.12,
        drift_g_per_h=-0.4,
    )
    return replace(seen, **more)  # type: ignore[arg-type]


CHECKS = (
    checked("2026-02-20", "2027-02-20"),
    checked("2025-08-11", "2026-08-11", repeatability_g=0.041, error_g=-0.08, temperature_c=None),
    checked("2025-02-10", "2026-02-10", repeatability_g=0.032, error_g=None, drift_g_per_h=None, verdict="fit"),
)


@dataclass
class SmallDesk:
    """Shows `view`; every call that would change something raises `refuses` when there is one."""

    view: ErrandView | None = None
    offered: tuple[PortChoice, ...] = PORTS
    done: tuple[CheckView, ...] = CHECKS
    refuses: StationError | None = None
    breaks: StationError | None = None
    calls: list[tuple[str, ...]] = field(default_factory=list)

    def in_use(self) -> str:
        self._look()
        return "status-commas on /dev/ttyUSB1, 9600 baud, 8N1"

    def ports(self) -> tuple[PortChoice, ...]:
        self._look()
        return self.offered

    def errand(self) -> ErrandView | None:
        self._look()
        return self.view

    def find(self, port: str) -> None:
        self._act("find", port)

    def check(self) -> None:
        self._act("check")

    def answer(self, text: str) -> None:
        self._act("answer", text)
        assert self.view is not None
        said = f"{self.view.question} {text}"
        self.view = replace(self.view, told=(*self.view.told, said), question="", asks=Asks.NOTHING)

    def leave(self) -> None:
        self._act("leave")

    def checks(self) -> tuple[CheckView, ...]:
        self._look()
        return self.done

    def _look(self) -> None:
        if self.breaks is not None:
            raise self.breaks

    def _act(self, *call: str) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.calls.append(call)


@contextmanager
def opened_with(desk: SmallDesk | None) -> Iterator[Station]:
    """A station's pages without a server, with a desk for its scale."""
    with opened_station(desk=desk) as station:
        yield station
