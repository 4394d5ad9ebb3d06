"""Many casts that cure at once, poured one after another: what alarms are measured with."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from datetime import timedelta
from typing import Any

from station.core.events import Entry
from station.core.material import Times
from station.core.moment import Moment
from tests.play import GRIP, SILICONE, Play

DEMOLD_S, FULL_CURE_S = 600.0, 86400.0
MATERIAL = replace(SILICONE, times=Times(1800, 30, 240, DEMOLD_S, FULL_CURE_S))


def poured() -> Play:
    """One cast of an invented material, just poured; its last entry is the pour's."""
    play = Play()
    play.begin(MATERIAL, "220", GRIP)
    play.put("24.3")
    play.pour("200.0", g_per_s=20)
    play.press()
    play.pour("20.0", g_per_s=3)
    play.wait(31)
    play.press()
    play.press()
    play.lift()
    play.press()
    return play


def curing(casts: int, first_due: Moment, apart_s: float) -> list[Entry]:
    """Entries of so many casts in the boot of `first_due`, of which the first may then come out, the next later."""
    play = poured()
    cast = play.cast
    assert cast.poured is not None
    earlier_s = first_due.boot_s - DEMOLD_S - cast.poured.boot_s
    entries = [
        _moved(entry, number, first_due, earlier_s + (number - 1) * apart_s)
        for number in range(1, casts + 1)
        for entry in play.entries
    ]
    if entries[0].at.boot_s < 0:
        raise RuntimeError("this machine has not been up for as long as such a cast takes")
    return sorted(entries, key=lambda entry: entry.at.boot_s)


def _moved(value: Any, number: int, boot: Moment, later_s: float) -> Any:
    """The same of another cast, at another time, in another boot."""
    if isinstance(value, Moment):
        boot_s = value.boot_s + later_s
        wall = boot.wall + timedelta(seconds=boot_s - boot.boot_s)
        return replace(boot, boot_s=boot_s, wall=wall)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    within = isinstance(value, Entry) or hasattr(value, "number")
    if not within:
        return value
    changed = {one.name: _moved(getattr(value, one.name), number, boot, later_s) for one in fields(value)}
    if "number" in changed:
        changed["number"] = number
    return type(value)(**changed)
