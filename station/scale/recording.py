"""Recordings: bytes saved from a scale, looked at afterwards: every frame with its meaning, family known or found
out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.scale.bit7 import Bit7, masked, rule_of
from station.scale.decoded import Frame
from station.scale.decoder import frame_of
from station.scale.families import FAMILIES, LEFT_OVER, FamilySpec, family_named
from station.scale.framing import Cut

_ENDERS = b"\r\n\x03\x04\x13"
_MOST_FRAMES_TRIED = 200

LINE_FEEDS = (b"\n", b"\x8a")
"""A line feed, also with odd parity or bit 7 always one."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """A frame and the bytes of the recording that it took, its ender included."""

    frame: Frame
    raw: bytes


def decode(family: str, data: bytes) -> list[Frame]:
    """The frames of a recording of one family, from the head of its first frame. Raises SettingsError for an
    unknown one."""
    return [recorded.frame for recorded in recorded_frames(data, family)]


def recorded_frames(data: bytes, family: str | None = None) -> list[Recorded]:
    """All frames in `data`, which begins at the head of a frame; the family is found out when it is not given.

    Seven-bit text read with eight data bits is recognised and put right. A last line without its ender is OTHER,
    unless its family needs none. Raises SettingsError for an unknown family.
    """
    if family is not None:
        return _frames(LEFT_OVER.get(family) or family_named(family), data)
    best = best_family(data)
    return _line_by_line(data) if best is None else _frames(best, data)


def best_family(data: bytes) -> FamilySpec | None:
    """The most specific family in which every whole frame of `data` has a meaning and its `proof` was seen."""
    return next((spec for spec in FAMILIES.values() if _fits(spec, data)), None)


def _fits(spec: FamilySpec, data: bytes) -> bool:
    cuts = _cuts(spec, data)[:_MOST_FRAMES_TRIED]
    if not cuts or (
        len(cuts) < _MOST_FRAMES_TRIED and _content(b"".join(cut.body for cut in cuts)) < _content(data) * _COVERED
    ):
        return False
    if cuts[0].begin and data[:1] in LINE_FEEDS:
        return False  # a line feed opens this frame, so its first line is not all of it
    if spec.proof is not None and not any(spec.proof.fullmatch(cut.body) for cut in cuts):
        return False
    return all(spec.grammar(cut.body.decode("latin-1")) is not None for cut in cuts)


_COVERED = 0.7
"""Share of a recording's bytes that the frames of its family take at least, enders aside."""


def _frames(spec: FamilySpec, data: bytes) -> list[Recorded]:
    text = _text(spec, data)
    framer = spec.framer(synced=True)
    cuts = framer.feed(text) + framer.rest()
    ends = [cut.begin for cut in cuts[1:]] + [len(data)] * bool(cuts)
    found = []
    for cut, following in zip(cuts, ends, strict=True):
        begin = cut.begin - (len(text[: cut.begin]) - len(text[: cut.begin].rstrip(b"\0")))
        end = cut.begin + len(cut.body)
        while end < following and text[end] in _ENDERS:
            end += 1
        found.append(Recorded(frame_of(spec, cut), data[begin:end]))
    return found


def _content(data: bytes) -> int:
    return sum(byte & 0x7F not in _ENDERS for byte in data)


def _cuts(spec: FamilySpec, data: bytes) -> list[Cut]:
    framer = spec.framer(synced=True)
    return [cut for cut in framer.feed(_text(spec, data)) + framer.rest() if cut.whole]


def _text(spec: FamilySpec, data: bytes) -> bytes:
    seven_bit = not spec.eight_bit and rule_of(data) in (Bit7.EVEN, Bit7.ODD, Bit7.ONE)
    return masked(data) if seven_bit else data


def _line_by_line(data: bytes) -> list[Recorded]:
    """Mixed recordings: each line by the first family that knows it."""
    found: list[Recorded] = []
    for piece in _frames(LEFT_OVER["partial"], data):
        # Where a line feed opens the frame, its first line is not all of it.
        opened = data[: data.find(piece.raw)].endswith(b"\n") and not found
        best = None if opened else best_family(piece.raw)
        if best is not None:
            found += _frames(best, piece.raw)
        else:
            found.append(replace(piece, frame=replace(piece.frame, family=_left_over(piece.raw))))
    return found


def _left_over(raw: bytes) -> str:
    """Printable lines that no scale sends are another instrument's; the rest are pieces."""
    text = masked(raw) if rule_of(raw) is not None else raw
    whole = text.endswith((b"\r", b"\n")) and all(0x20 <= byte < 0x7F or byte in _ENDERS for byte in text)
    return "not-a-scale" if whole else "partial"
