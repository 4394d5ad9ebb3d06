"""Decoder: bytes of one family to frames and to messages, still without a wire."""

from __future__ import annotations

from collections import deque

from station.core.messages import NoLoad, Reading
from station.scale.bit7 import Bit7, masked, rule_of
from station.scale.decoded import Frame, framed, message_of
from station.scale.families import FamilySpec, family_named
from station.scale.meaning import Kind

_REMEMBERED = 20


class Decoder:
    """One connection's worth of decoding; make a fresh one whenever the port was opened anew."""

    def __init__(self, spec: FamilySpec, synced: bool = False) -> None:
        self._spec = spec
        self._framer = spec.framer(synced)

    def feed(self, data: bytes) -> list[Frame]:
        """The frames completed by `data` (bit 7 already put right), unreadable ones as OTHER."""
        return [self._decode(raw) for raw in self._framer.feed(data)]

    def _decode(self, raw: bytes) -> Frame:
        # latin-1 maps every byte to one character, so no byte from the wire can make this fail.
        return framed(self._spec.id, raw, self._spec.grammar(raw.decode("latin-1")))


class ShapeGuard:
    """Holds back the first weight of a new length.

    Digits lost on the wire leave a line that is still grammatical and ten times too light, but shorter. A real
    change of length (a scale that does not pad) costs one reading; a torn line alone never becomes a load.
    """

    def __init__(self) -> None:
        self._lengths: deque[int] = deque(maxlen=_REMEMBERED)

    def message(self, frame: Frame, unit: str) -> Reading | NoLoad | None:
        """`message_of` the frame, or None when it is the first of its length for some time."""
        message = message_of(frame, unit)
        if not isinstance(message, Reading):
            return message
        known = len(frame.raw) in self._lengths
        self._lengths.append(len(frame.raw))
        return message if known else None


def decode(family: str, data: bytes) -> list[Frame]:
    """All complete frames in `data`, which begins at the head of a frame.

    For looking at recorded lines: seven-bit text read with eight data bits is recognised and put right. The
    port's thread does not guess, it is told the character format. Raises SettingsError for an unknown family.
    """
    rule = rule_of(data)
    seven_bit = rule in (Bit7.EVEN, Bit7.ODD, Bit7.ONE)
    return Decoder(family_named(family), synced=True).feed(masked(data) if seven_bit else data)


__all__ = ["Decoder", "Frame", "Kind", "ShapeGuard", "decode"]
