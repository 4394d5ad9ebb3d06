"""Decoder: bytes of one family to frames and to messages, still without a wire."""

from __future__ import annotations

from station.scale.decoded import Frame, framed
from station.scale.families import FamilySpec
from station.scale.framing import Cut
from station.scale.meaning import Kind


class Decoder:
    """One connection's worth of decoding; make a fresh one whenever the port was opened anew."""

    def __init__(self, spec: FamilySpec, synced: bool = False) -> None:
        self._spec = spec
        self._framer = spec.framer(synced)

    def feed(self, data: bytes) -> list[Frame]:
        """The frames completed by `data` (bit 7 already put right), unreadable ones as OTHER."""
        return [frame_of(self._spec, cut) for cut in self._framer.feed(data)]

    @property
    def waits_for_silence(self) -> bool:
        """Whether a frame is under way that a silent line would complete."""
        return self._spec.silence_ends and self._framer.open

    def quiet(self) -> list[Frame]:
        """The frames that are complete because nothing followed for a while."""
        return [frame_of(self._spec, cut) for cut in self._framer.quiet()]


def frame_of(spec: FamilySpec, cut: Cut) -> Frame:
    """What a cut says; half a line says nothing."""
    # latin-1 maps every byte to one character, so no byte from the wire can make this fail.
    return framed(spec.id, cut.body, spec.grammar(cut.body.decode("latin-1")) if cut.whole else None)


__all__ = ["Decoder", "Frame", "Kind", "frame_of"]
