"""Scores: how much the bytes heard at one bit rate look like a scale that speaks one family. Pure.

A port opened with eight data bits reads every ten-bit character format; which one it is shows in bit 7.
"""

from __future__ import annotations

import itertools
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


@dataclass(frozen=True, slots=True)
class Candidate:
    """One family's reading of what was heard: its frames in order, first and last piece left out."""

    spec: FamilySpec
    frames: tuple[Frame, ...]

    @property
    def loads(self) -> tuple[Frame, ...]:
        """The frames that tell a weight."""
        return tuple(frame for frame in self.frames if frame.kind is Kind.WEIGHT)

    @property
    def understood(self) -> int:
        """How many frames have a meaning in the family."""
        return sum(frame.understood for frame in self.frames)


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
    likeness = shares[bit7] ** 4 * (sum(byte in _ALPHABET for byte in text) / (len(text) or 1)) ** 2
    found = []
    for spec in FAMILIES.values():
        framer = spec.framer(synced)
        cuts = framer.feed(data if spec.eight_bit else text)
        cuts += [cut for cut in framer.rest() if cut.whole] if synced else framer.quiet()
        if candidate := _candidate(spec, cuts):
            # The bytes of a binary frame have no alphabet: how much of what was heard is frames stands for it.
            of_frames = sum(len(cut.body) for cut in cuts) / (len(data) - cuts[0].begin)
            found.append((_score(candidate, of_frames**2 if spec.id in _BINARY else likeness), candidate))
    best = max((score for score, _ in found), default=0.0)
    candidates = [candidate for score, candidate in found if score >= best * _FITS]
    # The order of the table, but a family whose word on rest the numbers belie comes last.
    return Hearing(bit7, best, likeness, tuple(sorted(candidates, key=belied)))


_BINARY = ("ff-bcd", "stx-bits", "soh-block")


def _candidate(spec: FamilySpec, cuts: list[Cut]) -> Candidate | None:
    frames = tuple(framed(spec.id, cut.body, spec.grammar(cut.body.decode("latin-1"))) for cut in cuts)
    candidate = Candidate(spec, frames)
    proven = spec.proof is None or any(spec.proof.fullmatch(cut.body) for cut in cuts)
    return candidate if frames and proven and candidate.understood >= len(frames) * _FITS else None


def _score(candidate: Candidate, likeness: float) -> float:
    count = len(candidate.frames)
    alike = Counter(len(frame.raw) for frame in candidate.frames).most_common(1)[0][1]
    return (
        likeness * (0.2 + 0.6 * candidate.understood / count + 0.2 * alike / count) * min(1.0, candidate.understood / 3)
    )


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
