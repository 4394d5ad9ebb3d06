"""Hypothesis strategies for every event, built from the types themselves: a new event or field is tried by itself."""

from __future__ import annotations

import dataclasses
import enum
import types
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from station.core.events import Entry, Event
from station.core.mass import Mass
from station.core.moment import Moment

MASSES = st.builds(Mass, st.integers(-(10**12), 10**12))
FINITE = st.floats(allow_nan=False, allow_infinity=False)
MOMENTS = st.builds(
    Moment,
    boot_s=st.floats(0, 1e9),
    boot_id=st.sampled_from(["boot-1", "boot-2", "böot-3"]),
    wall=st.datetimes(datetime(1970, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC)),
    trusted=st.booleans(),
)
_LEAVES: dict[Any, st.SearchStrategy[Any]] = {
    int: st.integers(-(2**31), 2**31 - 1),
    float: FINITE,
    bool: st.booleans(),
    str: st.text(max_size=12),
    type(None): st.none(),
    date: st.dates(),
    Mass: MASSES,
    Moment: MOMENTS,
}


@cache
def of(kind: Any) -> st.SearchStrategy[Any]:
    """Values of a field's type."""
    if kind in _LEAVES:
        return _LEAVES[kind]
    if get_origin(kind) in (Union, types.UnionType):
        return st.one_of(*map(of, get_args(kind)))
    if get_origin(kind) is tuple:
        return st.lists(of(get_args(kind)[0]), max_size=3).map(tuple)
    if isinstance(kind, type) and issubclass(kind, enum.Enum):
        return st.sampled_from(list(kind))
    if dataclasses.is_dataclass(kind):
        hints = get_type_hints(kind)
        return st.builds(kind, **{field.name: of(hints[field.name]) for field in dataclasses.fields(kind)})
    raise TypeError(f"no strategy for {kind!r}")


ENTRIES = st.builds(Entry, event=of(Event), at=MOMENTS)


def spaced(entries: list[Entry]) -> list[Entry]:
    """The same entries, each at a moment of its own: nothing happens twice at one moment."""
    return [
        dataclasses.replace(
            entry,
            at=dataclasses.replace(entry.at, boot_s=float(place), wall=entry.at.wall + timedelta(microseconds=place)),
        )
        for place, entry in enumerate(entries)
    ]
