"""A serial line bit by bit: what a receiver at one setting hears when a sender uses another.

Written from the textbook asynchronous receiver (from memory): sixteen looks per bit, the first low look opens
a character, the eighth look of the start bit must still be low, every later bit is looked at sixteen looks on,
the first stop bit must be high. All times are whole units of 1 / `per_second` second, so nothing is rounded.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from station.errors import SettingsError

LOOKS = 16
_MID = 7  # looks after the first low one: the eighth of sixteen


class Resync(Enum):
    """What a receiver does after a stop bit that was low."""

    NEXT_EDGE = "waits until the line has been high, then for the next falling edge"
    LOW_IS_START = "takes the low stop bit for the next start bit, as a 16550 does"


@dataclass(frozen=True, slots=True)
class LineSetting:
    """Bits per second, 7 or 8 data bits, parity N E O M S, 1 or 2 stop bits. Raises SettingsError."""

    baud: int
    data_bits: int = 8
    parity: str = "N"
    stop_bits: int = 1

    def __post_init__(self) -> None:
        if self.baud < 1 or not re.fullmatch(r"[78][NEOMS][12]", self.name):
            raise SettingsError([f"No serial line runs at {self.baud} {self.name}. Write for example 9600 and 7E1."])

    @classmethod
    def named(cls, baud: int, name: str) -> LineSetting:
        """From a rate and a name such as 7E1. Raises SettingsError."""
        if not re.fullmatch(r"\d[A-Za-z]\d", name):
            raise SettingsError([f"{name!r} is no character format. Write for example 7E1 or 8N1."])
        return cls(baud, int(name[0]), name[1].upper(), int(name[2]))

    @property
    def name(self) -> str:
        """The short name, for example 7E1."""
        return f"{self.data_bits}{self.parity}{self.stop_bits}"

    @property
    def payload(self) -> int:
        """Bits between the start bit and the first stop bit."""
        return self.data_bits + (self.parity != "N")

    @property
    def character(self) -> int:
        """Bit times that one character takes."""
        return 1 + self.payload + self.stop_bits

    def bits_of(self, byte: int) -> int:
        """Data and parity bits of `byte`, the first on the line lowest; a bit that does not fit is not sent."""
        data = byte & (1 << self.data_bits) - 1
        odd = data.bit_count() % 2
        parity = {"N": 0, "E": odd, "O": 1 - odd, "M": 1, "S": 0}[self.parity]
        return data | parity << self.data_bits

    def seconds(self, count: int) -> float:
        """How long `count` characters in a row take, in seconds."""
        return count * self.character / self.baud


class Signal(NamedTuple):
    """A line that rests high and changes at each of `edges` (sorted, in 1 / `per_second` s), first to low."""

    edges: list[int]
    per_second: int


class Heard(NamedTuple):
    """What the port delivers: bytes with framing or parity errors are in it unchanged, as with input checks off.

    `ends_s`: for each byte the time in seconds at which its stop bit was looked at.
    """

    data: bytes
    framing_errors: int
    parity_errors: int
    ends_s: list[float]


def units_per_second(sent: LineSetting, listening: LineSetting) -> int:
    """A unit of time in which the sender's bits and the receiver's looks are all whole, and sixteenths of looks."""
    return LOOKS * math.lcm(sent.baud, LOOKS * listening.baud)


def starts_of(
    data: bytes, sent: LineSetting, per_second: int, gaps: Mapping[int, float] | None = None, byte_gap: float = 0.0
) -> list[int]:
    """When each start bit begins. `gaps`: idle bit times before the byte of that index; `byte_gap` between bytes."""
    bit = per_second // sent.baud
    starts, now, idle = [], 0, gaps or {}
    for index in range(len(data)):
        now += round((idle.get(index, 0.0) + (byte_gap if index else 0.0)) * bit)
        starts.append(now)
        now += sent.character * bit
    return starts


def send(
    data: bytes, sent: LineSetting, per_second: int, gaps: Mapping[int, float] | None = None, byte_gap: float = 0.0
) -> Signal:
    """`data` as levels on the line; `per_second` must be a multiple of the sender's rate."""
    bit = per_second // sent.baud
    edges: list[int] = []
    for start, byte in zip(starts_of(data, sent, per_second, gaps, byte_gap), data, strict=True):
        # Start bit low, then the payload, then high: an edge wherever neighbours differ.
        levels = sent.bits_of(byte) << 1 | 1 << sent.payload + 1
        changes = levels ^ (levels << 1 | 1)
        edges += [start + at * bit for at in range(sent.payload + 2) if changes >> at & 1]
    return Signal(edges, per_second)


def receive(
    signal: Signal,
    listening: LineSetting,
    resync: Resync = Resync.NEXT_EDGE,
    listen_from_s: float = 0.0,
    phase: float = 0.0,
) -> Heard:
    """What a receiver makes of `signal`, bit by bit, from `listen_from_s` seconds on.

    `phase` (0 to less than 1) shifts its looks by that part of a look. A break is one NUL with a framing error.
    `signal.per_second` must be a multiple of sixteen times the receiver's rate.
    """
    edges, count = signal.edges, len(signal.edges)
    step = signal.per_second // (LOOKS * listening.baud)
    shift = int(phase * step)
    payload, mask = listening.payload, (1 << listening.data_bits) - 1
    got, ends = bytearray(), list[float]()
    framing = parity = 0
    # One look before time zero, so that a character that begins at zero is seen to begin.
    look = math.ceil((listen_from_s * signal.per_second - shift) / step) if listen_from_s > 0 else -1 - (shift > 0)
    while True:
        look = _first(edges, step, shift, look, high=True)
        start = _first(edges, step, shift, look, high=False)
        if start < 0:
            return Heard(bytes(got), framing, parity, ends)
        look = start + _MID
        passed = bisect_right(edges, look * step + shift)
        if passed % 2 == 0:  # a pulse shorter than half a bit is no start bit
            continue
        more = True
        while more:
            bits = 0
            for at in range(payload + 1):
                look += LOOKS
                now = look * step + shift
                while passed < count and edges[passed] <= now:
                    passed += 1
                bits |= (passed + 1) % 2 << at
            good = bool(bits >> payload)
            bits &= (1 << payload) - 1
            got.append(bits & mask)
            ends.append(now / signal.per_second)
            framing += not good
            parity += listening.bits_of(bits & mask) != bits
            # All low is a break: also a 16550 then waits for the line to be high.
            more = not good and bits != 0 and resync is Resync.LOW_IS_START


def _first(edges: list[int], step: int, shift: int, look: int, *, high: bool) -> int:
    """The first look from `look` on at which the line has that level; -1 when it never has."""
    while True:
        passed = bisect_right(edges, look * step + shift)
        if (passed % 2 == 0) is high:
            return look
        if passed == len(edges):
            return -1
        look = -((shift - edges[passed]) // step)


def heard(
    data: bytes,
    sent: LineSetting,
    listening: LineSetting,
    gaps: Mapping[int, float] | None = None,
    *,
    byte_gap: float = 0.0,
    resync: Resync = Resync.NEXT_EDGE,
    listen_from_s: float = 0.0,
    phase: float = 0.0,
) -> Heard:
    """What a port set to `listening` delivers when `data` is sent with `sent`.

    `gaps` and `byte_gap` are idle times in the sender's bits, see `starts_of`; the rest as for `receive`.
    """
    per_second = units_per_second(sent, listening)
    if not compatible(sent, listening) or listen_from_s > 0:
        return receive(send(data, sent, per_second, gaps, byte_gap), listening, resync, listen_from_s, phase)
    step = per_second // (LOOKS * listening.baud)
    shift, whole = int(phase * step), _MID + LOOKS * (listening.payload + 1)
    starts = starts_of(data, sent, per_second, gaps, byte_gap)
    ends = [((-((shift - start) // step) + whole) * step + shift) / per_second for start in starts]
    return _same_frame(data, sent, listening)._replace(ends_s=ends)


def compatible(sent: LineSetting, listening: LineSetting) -> bool:
    """Whether every bit that the receiver looks at lies in the sender's character, its stop bit on a stop bit."""
    return sent.baud == listening.baud and sent.payload <= listening.payload < sent.payload + sent.stop_bits


def _same_frame(data: bytes, sent: LineSetting, listening: LineSetting) -> Heard:
    """Without looking at the line: the bits are the same ones, and a stop bit read as data is high."""
    mask, highs = (1 << listening.data_bits) - 1, (1 << listening.payload) - (1 << sent.payload)
    read = [sent.bits_of(byte) | highs for byte in data]
    wrong = sum(listening.bits_of(bits & mask) != bits for bits in read)
    return Heard(bytes(bits & mask for bits in read), 0, wrong, [])
