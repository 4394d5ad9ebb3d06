"""Events that belong to no single cast: the station, its lots, the room and the record itself.

Never rename a class or a field that has been released: the journal keeps both by name.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.core.mass import Mass
from station.core.moment import Moment


@dataclass(frozen=True, slots=True)
class StationStarted:
    """The service came up. `last_seen` is the last evidence of its earlier run."""

    last_seen: Moment | None
    version: str


@dataclass(frozen=True, slots=True)
class LotCounted:
    """The container of a lot was weighed: `gross` with `empty` for the bare container leaves `left` in it."""

    lot: str
    gross: Mass
    empty: Mass
    left: Mass
    by: str


@dataclass(frozen=True, slots=True)
class TemperatureNoted:
    """Temperature at the bench from this moment on; None: no longer known."""

    celsius: float | None


@dataclass(frozen=True, slots=True)
class HumidityNoted:
    """Relative humidity of the air at the bench from this moment on, in percent; None: no longer known."""

    percent: float | None


@dataclass(frozen=True, slots=True)
class RecordRestored:
    """A damaged record was replaced by `rows` rows of the backup `base` and of what was whole; `lost` are gone.

    What was there before lies in `set_aside`, beside the record.
    """

    rows: int
    lost: int
    base: str
    set_aside: str
    by: str


@dataclass(frozen=True, slots=True)
class RestoringSeen:
    """Somebody has read that the record was restored."""

    by: str
