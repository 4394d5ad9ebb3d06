"""Frame: one complete line from the scale and what it says; and what of it the bench may know."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from station.core.mass import Mass
from station.core.messages import NoLoad, Reading, Stability, Trouble
from station.scale.meaning import Kind, Meaning, Mode
from station.scale.units import GRAMS_PER, SHARES, grams_of

_TROUBLE = {Kind.OVERLOAD: Trouble.OVERLOAD, Kind.UNDERLOAD: Trouble.UNDERLOAD, Kind.ERROR: Trouble.ERROR}
_STABILITY = {True: Stability.STABLE, False: Stability.MOVING, None: Stability.UNSAID}


@dataclass(frozen=True, slots=True)
class Frame:
    """One frame of one family.

    `value` is the number as shown and `decimals` its resolution; `unit` our name of the unit, None when the
    line carries none; `grams` their exact product, None without a mass unit. `stable` is None when the line
    does not say. Not `understood`: the line has no place in its family. `raw` is the frame as it came, without its
    ender.
    """

    family: str
    kind: Kind
    raw: bytes
    value: Decimal | None = None
    decimals: int = 0
    unit: str | None = None
    grams: Decimal | None = None
    stable: bool | None = None
    mode: Mode | None = None
    understood: bool = True


def framed(family: str, raw: bytes, meaning: Meaning | None) -> Frame:
    """The frame of `raw`; a line without a meaning in its family's grammar is kept as OTHER, never guessed at."""
    if meaning is None:
        return Frame(family, Kind.OTHER, raw, understood=False)
    n, unit = meaning.number, meaning.unit
    weighed = n is not None and unit is not None and meaning.kind is Kind.WEIGHT
    grams = grams_of(n.value, unit) if weighed and n is not None and unit is not None else None
    value, decimals = (n.value, n.decimals) if n is not None else (None, 0)
    return Frame(family, meaning.kind, raw, value, decimals, unit, grams, meaning.stable, meaning.mode)


def message_of(frame: Frame, unit: str, worth: Decimal = Decimal(1)) -> Reading | NoLoad | None:
    """What the bench may know of a frame; `unit` is the configured one, for lines that carry none.

    `worth` is what one of the last digit counts there where the scale sends no point either.

    None: not about the load on the pan (tare answers, counts, totals, texts, units of unsettled worth).
    """
    if frame.kind in _TROUBLE:
        return NoLoad(_TROUBLE[frame.kind])
    if frame.kind is not Kind.WEIGHT or frame.mode is Mode.TARE or frame.value is None:
        return None
    grams = frame.grams
    if grams is None and frame.unit is None:
        grams = grams_of(frame.value if frame.decimals else frame.value * worth, unit)
    return None if grams is None else Reading(Mass.grams(grams), _STABILITY[frame.stable])


def plain(frame: Frame) -> dict[str, str | bool | None]:
    """The frame for other programs: `value` as on the wire and `grams` as exact decimals, in words what is not a
    number.

    A unit beyond the station's list (grain, newton) is null, as is the worth of a line without a unit.
    """
    return {
        "family": frame.family,
        "value": None if frame.value is None else f"{frame.value:f}",
        "unit": frame.unit if frame.unit in GRAMS_PER or frame.unit in SHARES else None,
        "grams": None if frame.grams is None else f"{frame.grams.normalize():f}",
        "stable": frame.stable,
        "kind": frame.kind.value,
        "mode": None if frame.mode is None else frame.mode.value,
    }
