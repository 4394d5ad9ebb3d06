"""Limits: how often one address may ask for what costs something. A few at once, then one by one.

The table is bounded, so that a swarm of addresses cannot fill the memory. Who comes when it is full shares one
allowance with all others who did: they are slowed down, and those already known are not.
"""

from __future__ import annotations

import ipaddress
import math
import threading
from collections.abc import Mapping
from dataclasses import dataclass

from station.errors import StationError
from station.ports import TimeSource
from station.texts import t, tn

MOST_ADDRESSES = 512
_ELSEWHERE = "elsewhere"


class TooOften(StationError):
    """This address has asked too often. Nothing has changed."""

    def __init__(self, wait_s: float) -> None:
        self.wait_s = max(1, math.ceil(wait_s))
        wait = tn("Wait a second, then try again.", "Wait {n} seconds, then try again.", self.wait_s)
        super().__init__(t("That was asked for too often from this device."), wait)


@dataclass(frozen=True, slots=True)
class Rate:
    """So many at once, and one more every so many seconds."""

    at_once: int
    every_s: float


@dataclass(frozen=True, slots=True)
class Allowance:
    """How many are left, as reckoned at a boot time in seconds."""

    left: float
    at_s: float


def grown(allowance: Allowance | None, rate: Rate, at_s: float) -> Allowance:
    """What is left at `at_s`; None is somebody new."""
    if allowance is None:
        return Allowance(rate.at_once, at_s)
    gained = max(0.0, at_s - allowance.at_s) / rate.every_s
    return Allowance(min(rate.at_once, allowance.left + gained), at_s)


def taken(allowance: Allowance | None, rate: Rate, at_s: float) -> tuple[Allowance, float]:
    """One is taken: what is left, and how many seconds to wait when there was none (0: it was granted)."""
    now = grown(allowance, rate, at_s)
    if now.left < 1:
        return now, (1 - now.left) * rate.every_s
    return Allowance(now.left - 1, at_s), 0.0


def neighbourhood(address: str | None) -> str:
    """What counts as one address: of IPv6 the first 64 bits, since one device may have all that follow."""
    try:
        found = ipaddress.ip_address((address or "").partition("%")[0])
    except ValueError:
        return _ELSEWHERE
    if isinstance(found, ipaddress.IPv6Address):
        mapped = found.ipv4_mapped
        return str(mapped) if mapped else str(ipaddress.ip_network((found, 64), strict=False))
    return str(found)


class Limits:
    """One owner of the allowances. `rates` tells what is limited, by the name of its route."""

    def __init__(self, clock: TimeSource, rates: Mapping[str, Rate], most: int = MOST_ADDRESSES) -> None:
        self._clock, self._rates, self._most = clock, rates, most
        self._lock = threading.Lock()
        self._left: dict[tuple[str, str], Allowance] = {}

    def __len__(self) -> int:
        """How many allowances are kept."""
        return len(self._left)

    def check(self, route: str, address: str | None) -> None:
        """Take one. Raises TooOften when none is left."""
        rate = self._rates.get(route)
        if rate is None:
            return
        at_s = self._clock.now().boot_s
        with self._lock:
            who = (route, neighbourhood(address))
            if who not in self._left and len(self._left) >= self._most:
                self._forget(at_s)
                if len(self._left) >= self._most:
                    who = (route, _ELSEWHERE)
            self._left[who], wait_s = taken(self._left.get(who), rate, at_s)
        if wait_s > 0:
            raise TooOften(wait_s)

    def _forget(self, at_s: float) -> None:
        """Let go of whoever has as much left as somebody new."""
        for who in list(self._left):
            rate = self._rates[who[0]]
            if grown(self._left[who], rate, at_s).left >= rate.at_once:
                del self._left[who]


_PAGES = Rate(60, 1.0)
"""Pages that reckon or read from the disk: far more than a person leafs through, far less than hurts."""

_PAPERS = Rate(20, 2.0)
"""Each takes a process for a second, and more than one at a time is not made."""

RATES: Mapping[str, Rate] = {
    "door.ask": Rate(10, 20.0),
    "door.open_with": Rate(20, 20.0),
    "api.stream": Rate(60, 0.5),
    "work.one": _PAGES,
    "work.figures": _PAGES,
    "work.drawing": _PAGES,
    "log.casts": _PAGES,
    "log.cast": _PAGES,
    "log.plain": _PAGES,
    "judging.waiting": _PAGES,
    "judging.one": _PAGES,
    "stock.lot": _PAGES,
    "stock.values": _PAGES,
    "new.empty": _PAGES,
    "keeping.record": _PAGES,
    "scale.scale": _PAGES,
    "practice.practice": _PAGES,
    "differences.page": _PAGES,
    "differences.compare": _PAGES,
    "differences.api": _PAGES,
    "advice.advice": _PAGES,
    "advice.api": _PAGES,
    "trials.trials": _PAGES,
    "trials.one": _PAGES,
    "photos.picture": Rate(60, 0.5),
    "photos.small": Rate(240, 0.1),
    "paper.record": _PAPERS,
    "paper.label_file": _PAPERS,
}
