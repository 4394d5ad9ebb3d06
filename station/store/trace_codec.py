"""Weighing traces as small blobs: differences of milliseconds and milligrams, as variable-length integers, deflated."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence

from station.core.trace import Points
from station.errors import LedgerFault
from station.texts import t


def pack(points: Sequence[tuple[float, int]]) -> bytes:
    """The blob of a trace. Seconds are kept to the millisecond, masses exactly."""
    numbers = bytearray()
    before_ms = before_mg = 0
    for seconds, mg in points:
        ms = round(seconds * 1000)
        _put(numbers, ms - before_ms)
        _put(numbers, mg - before_mg)
        before_ms, before_mg = ms, mg
    return zlib.compress(bytes(numbers), 9)


def unpack(blob: bytes) -> Points:
    """The trace of a blob. Raises LedgerFault when it is damaged."""
    try:
        numbers = list(_numbers(zlib.decompress(blob)))
        return tuple(_points(numbers[::2], numbers[1::2]))
    except (zlib.error, ValueError, TypeError, OverflowError) as why:
        raise LedgerFault(t("A weighing trace in the record is damaged; the weighing's result is not.")) from why


def _points(times: Sequence[int], loads: Sequence[int]) -> Iterator[tuple[float, int]]:
    ms = mg = 0
    for step_ms, step_mg in zip(times, loads, strict=True):
        ms, mg = ms + step_ms, mg + step_mg
        yield ms / 1000, mg


def _put(out: bytearray, number: int) -> None:
    """Seven bits a byte, lowest first, the top bit says that more follow; the sign is the lowest bit."""
    rest = number * 2 if number >= 0 else -number * 2 - 1
    while rest > 0x7F:
        out.append(rest & 0x7F | 0x80)
        rest >>= 7
    out.append(rest)


def _numbers(data: bytes) -> Iterator[int]:
    value = shift = 0
    for byte in data:
        value |= (byte & 0x7F) << shift
        shift += 7
        if not byte & 0x80:
            yield -((value + 1) // 2) if value & 1 else value // 2
            value = shift = 0
    if shift:
        raise ValueError("the last number is not whole")
