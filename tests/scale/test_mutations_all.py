"""Damaged frames of every family: no exception, and no number that does not stand in the frame.

A digit turned into another digit is another number and nobody can tell, where the family has no check byte. So what is
checked is that the value is exactly the digits of the frame, read here without the grammars, and that families with a
check byte let nothing through but what chance makes right.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from decimal import Decimal

import pytest

from station.core.messages import Reading
from station.scale.decoder import Decoder
from station.scale.families import FAMILIES
from station.scale.meaning import Kind, Mode
from station.scale.recording import recorded_frames
from station.scale.sense import Expected, Sense
from tests.scale.published import PUBLISHED
from tests.scale.test_mutations import damaged

MUTANTS = [20_000, pytest.param(1_000_000, marks=pytest.mark.soak)]
CHECKED = {"soh-block", "stx-xor"}
BINARY = {"ff-bcd", "stx-bits", "mirror-equals", "stx-xor"}
SEEDS = {
    family: [line.raw for line in PUBLISHED if line.family == family and line.meaning.kind == "weight"]
    for family in FAMILIES
}
TRUE = {
    family: {line.meaning.value for line in PUBLISHED if line.family == family and line.meaning.kind == "weight"}
    for family in FAMILIES
}


@pytest.mark.parametrize("mutants", MUTANTS)
def test_damaged_frames_never_raise_and_give_no_number_that_is_not_in_them(mutants: int) -> None:
    rng = random.Random("all families")
    others = [raw for raws in SEEDS.values() for raw in raws]
    wrong: Counter[str] = Counter()
    loads: Counter[str] = Counter()
    for number in range(mutants):
        family = list(FAMILIES)[number % len(FAMILIES)]
        mutant = damaged(rng, rng.choice(SEEDS[family]), rng.choice(others))
        for found in recorded_frames(mutant, family):
            frame = found.frame
            if frame.kind is not Kind.WEIGHT or frame.value is None:
                continue
            loads[family] += 1
            wrong[family] += f"{frame.value:f}" not in TRUE[family]
            if family not in BINARY and frame.unit != "lboz":
                assert stands_in(frame.value, found.raw), (frame, found.raw)
    assert all(loads[family] > 5 for family in FAMILIES), loads
    for family in CHECKED:
        assert wrong[family] <= max(2, loads[family] // 20), (family, wrong[family], loads[family])
    print({family: f"{wrong[family]}/{loads[family]}" for family in FAMILIES})


def stands_in(value: Decimal, raw: bytes) -> bool:
    """Whether the value is a whole number of the frame: its digits, zeros in front, no digit beside them.

    Marks that part the digits of one number (point, apostrophe, slash, brackets) are taken away first; a comma may be
    such a mark or stand between two numbers.
    """
    text = re.sub(r"[./'\[\]]", "", bytes(byte & 0x7F for byte in raw).decode("ascii"))
    digits = f"{abs(value):f}".replace(".", "")
    return any(re.search(rf"(?<![0-9])0*{digits}(?![0-9])", text.replace(",", comma)) for comma in ("", " "))


@pytest.mark.parametrize("streams", [2_000, pytest.param(50_000, marks=pytest.mark.soak)])
def test_a_damaged_frame_in_a_steady_stream_is_a_load_only_when_digits_were_swapped(streams: int) -> None:
    """What the bench would know: of lines cut, doubled, torn or garbled in a steady stream, none but a swapped
    digit."""
    rng = random.Random("steady")
    accepted: Counter[str] = Counter()
    guiding = [family for family, spec in FAMILIES.items() if spec.guides]
    for number in range(streams):
        family = guiding[number % len(guiding)]
        raw = rng.choice(SEEDS[family])
        sense, decoder = Sense(Expected(FAMILIES[family], "g")), Decoder(FAMILIES[family], synced=True)
        good: set[int] = set()
        for step in range(8):
            good |= _known(sense, decoder, raw, step * 0.1)
        swapped = bytearray(raw)
        at = rng.randrange(len(raw))
        match rng.randrange(3):
            case 0:
                del swapped[at : at + rng.randint(1, len(raw))]
            case 1:
                swapped[at:at] = raw[: rng.randint(1, len(raw))]
            case _:
                swapped[at] = rng.choice(b" \x00\xff.+-,?SUTGN\r\n")
        heard = _known(sense, decoder, bytes(swapped), 0.8) | _known(sense, decoder, raw, 0.9)
        new = heard - good
        accepted[family] += bool(new)
        if new:
            # A sign, a point or a blank that came in the place of another character makes a well-formed line of the
            # same length; nothing shorter or longer may ever pass.
            assert len(swapped) == len(raw), (family, raw, bytes(swapped))
    print(accepted)
    assert accepted.total() <= streams * 0.05


def _known(sense: Sense, decoder: Decoder, data: bytes, now_s: float) -> set[int]:
    frames = decoder.feed(data) + decoder.quiet()
    live = [frame for frame in frames if frame.mode is not Mode.TARE]
    return {m.gross.mg for m in sense.hear(live, len(data), now_s) if isinstance(m, Reading)}
