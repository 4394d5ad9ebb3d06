"""Scores: how much the bytes heard at one bit rate look like a scale that speaks one family. Pure.

A port opened with eight data bits reads every ten-bit character format; which one it is shows in bit 7.
"""

from __future__ import annotations

import itertools
import re
from collections import Counter
from dataclasses import dataclass

from station.scale.bit7 import Bit7, masked, shares_of
from station.scale.decoded import Frame, framed
from station.scale.families import FAMILIES, FamilySpec
from station.scale.framing import Cut
from station.scale.meaning import Kind

ACCEPT = 0.5
"""Score from which a bit rate is taken for right, with `ENOUGH` frames."""

ENOUGH = 6
_ALPHABET = frozenset(b" 0123456789.,;:+-?*#=$@<>[]()/'%_^!\r\n\x02\x03\x04\x05\x06\x11\x13\x01") | frozenset(
    b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
)
_FITS = 0.8
_PLACES = re.compile(rb"[0-9]")


@dataclass(frozen=True, slots=True)
class Candidate:
    """One family's reading of what was heard: its frames in order, first and last piece left out."""

    spec: FamilySpec
    frames: tuple[Frame, ...]
    matched: float

    @property
    def loads(self) -> tuple[Frame, ...]:
        """The frames that tell a weight."""
        return tuple(frame for frame in self.frames if frame.kind is Kind.WEIGHT)


@dataclass(frozen=True, slots=True)
class Hearing:
    """What was heard at one bit rate: the rule of bit 7, the score from 0 to 1, and the families that fit,
    likeliest first.

    `likeness` from 0 to 1 is how much the bytes alone look like text of a scale, whole frames or not.
    """

    bit7: Bit7
    score: float
    likeness: float
    candidates: tuple[Candidate, ...]

    @property
    def best(self) -> Candidate | None:
        """The likeliest family."""
        return self.candidates[0] if self.candidates else None


def hearing_of(data: bytes, synced: bool = False) -> Hearing:
    """Judge the bytes heard at one rate; `synced` when they begin with the head of a frame, as an answer does.

    score = c^4 a^2 (0.2 + 0.6 m + 0.2 r) min(1, k/3): c share of bytes that obey the best rule of bit 7, a of bytes in
    a scale's alphabet, m share of frames with a meaning, r share of the commonest length, k frames with a meaning.
    """
    shares = shares_of(data)
    bit7 = max(Bit7, key=lambda rule: shares[rule])
    text = data if bit7 is Bit7.DATA else masked(data)
    found = []
    for spec in FAMILIES.values():
        candidate, score = _tried(
            spec, data if spec.eight_bit else text, synced, 1.0 if spec.eight_bit else shares[bit7]
        )
        if candidate is not None:
            found.append((score, candidate))
    best = max((score for score, _ in found), default=0.0)
    known = sum(byte in _ALPHABET for byte in text) / (len(text) or 1)
    return Hearing(
        bit7, best, shares[bit7] ** 4 * known**2, tuple(_ranked([c for score, c in found if score >= best * _FITS]))
    )


def _tried(spec: FamilySpec, data: bytes, synced: bool, obedient: float) -> tuple[Candidate | None, float]:
    framer = spec.framer(synced)
    cuts = framer.feed(data)
    cuts += [cut for cut in framer.rest() if cut.whole] if synced else framer.quiet()
    if not cuts:
        return None, 0.0
    frames = tuple(framed(spec.id, cut.body, spec.grammar(cut.body.decode("latin-1"))) for cut in cuts)
    told = [cut for cut, frame in zip(cuts, frames, strict=True) if _says(spec, cut, frame)]
    matched = len(told) / len(cuts)
    if matched < _FITS or (spec.proof is not None and not any(spec.proof.fullmatch(cut.body) for cut in cuts)):
        return None, 0.0
    known = sum(byte in _ALPHABET for byte in data) / len(data)
    if spec.id in _BINARY:
        known = min(1.0, sum(len(cut.body) for cut in cuts) / len(data[cuts[0].begin :]))
    alike = Counter(len(cut.body) for cut in cuts).most_common(1)[0][1] / len(cuts)
    score = obedient**4 * known**2 * (0.2 + 0.6 * matched + 0.2 * alike) * min(1.0, len(told) / 3)
    return Candidate(spec, frames, matched), score


_BINARY = ("ff-bcd", "stx-bits", "soh-block")


def _says(spec: FamilySpec, cut: Cut, frame: Frame) -> bool:
    """Whether the frame has a meaning of its own: text that a family takes for just another line is none."""
    if spec.takes_any_text:
        return frame.kind is not Kind.OTHER
    return spec.grammar(cut.body.decode("latin-1")) is not None


def _ranked(candidates: list[Candidate]) -> list[Candidate]:
    """The order of the table, but a family whose word on rest the numbers belie comes last."""
    return sorted(candidates, key=belied)


def belied(candidate: Candidate) -> bool:
    """Whether the family calls loads stable while they run: then it does not say so, and another family is meant.

    A jump of one frame is no proof, since displays lag; a run of three changes in one direction is.
    """
    loads = candidate.loads
    steps = [(b.value or 0) - (a.value or 0) for a, b in itertools.pairwise(loads)]
    running = [
        place + 1
        for place in range(1, len(steps) - 1)
        if steps[place - 1] * steps[place] > 0 and steps[place] * steps[place + 1] > 0
    ]
    said = [loads[place].stable for place in running]
    return len(said) >= 2 and said.count(True) > len(said) / 2


def skeleton(frame: Frame) -> bytes:
    """The shape of a frame: every digit a 9."""
    return _PLACES.sub(b"9", frame.raw)
