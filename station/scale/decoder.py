"""Decoder: bytes of one family to frames and to messages, still without a wire."""

from __future__ import annotations

from collections import deque
from decimal import Decimal

from station.core.messages import NoLoad, Reading
from station.scale.decoded import Frame, framed, message_of
from station.scale.families import FamilySpec
from station.scale.framing import Cut
from station.scale.meaning import Kind

_REMEMBERED = 20


class Decoder:
    """One connection's worth of decoding; make a fresh one whenever the port was opened anew."""

    def __init__(self, spec: FamilySpec, synced: bool = False) -> None:
        self._spec = spec
        self._framer = spec.framer(synced)

    def feed(self, data: bytes) -> list[Frame]:
        """The frames completed by `data` (bit 7 already put right), unreadable ones as OTHER."""
        return [frame_of(self._spec, cut) for cut in self._framer.feed(data)]

    def quiet(self) -> list[Frame]:
        """The frames that are complete because nothing followed for a while."""
        return [frame_of(self._spec, cut) for cut in self._framer.quiet()]


def frame_of(spec: FamilySpec, cut: Cut) -> Frame:
    """What a cut says; half a line says nothing."""
    # latin-1 maps every byte to one character, so no byte from the wire can make this fail.
    return framed(spec.id, cut.body, spec.grammar(cut.body.decode("latin-1")) if cut.whole else None)


class ShapeGuard:
    """Holds back the first weight of a new length.

    Digits lost on the wire leave a line that is still grammatical and ten times too light, but shorter. A real
    change of length (a scale that does not pad) costs one reading; a torn line alone never becomes a load.
    """

    def __init__(self) -> None:
        self._lengths: deque[int] = deque(maxlen=_REMEMBERED)

    def message(self, frame: Frame, unit: str, scale: Decimal = Decimal(1)) -> Reading | NoLoad | None:
        """`message_of` the frame, or None when it is the first of its length for some time."""
        message = message_of(frame, unit, scale)
        if not isinstance(message, Reading):
            return message
        known = len(frame.raw) in self._lengths
        self._lengths.append(len(frame.raw))
        return message if known else None


__all__ = ["Decoder", "Frame", "Kind", "ShapeGuard", "frame_of"]
