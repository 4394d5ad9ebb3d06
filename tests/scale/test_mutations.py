"""20,000 damaged lines: no exception, and a load only where the damaged line is itself a well-formed line.

A damaged digit is another digit and nobody can tell. So the check is this: whatever is read as a load must be,
blanks and padding aside, one of the few ways to write exactly that load, built here without the grammars.
"""

from __future__ import annotations

import itertools
import random
import re

import pytest

from station.scale.decoded import Frame, message_of
from station.scale.decoder import Decoder
from station.scale.families import FAMILIES
from station.scale.meaning import Kind
from station.scale.recording import decode
from station.scale.sense import Expected, Sense
from tests.scale.lines import LINES, WRITTEN

MUTANTS = [20_000, pytest.param(1_000_000, marks=pytest.mark.soak)]
NASTY = b"0123456789+-., ;:'gGkKmMlLbBoOzZcCtT%STUSGNTPDEQW\x00\x02\x03\x06\r\n\xff\x85\xb2\xb3"
SPELLINGS = {"pcs": ["pcs", "pc"], "pct": ["%"], None: [""]}


def damaged(rng: random.Random, raw: bytes, other: bytes) -> bytes:
    """`raw` after one to three accidents of the wire."""
    data = bytearray(raw)
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(data)) if data else 0
        match rng.randrange(7):
            case 0:
                data[at : at + 1] = bytes([rng.choice(NASTY)])
            case 1:
                data[at : at + 1] = bytes([data[at] ^ (1 << rng.randrange(8))]) if data else b""
            case 2:
                del data[at : at + rng.randint(1, 6)]
            case 3:
                data[at:at] = bytes([rng.choice(NASTY)])
            case 4:
                data[at:at] = data[at : at + rng.randint(1, 4)]
            case 5:
                data[at:] = other[rng.randrange(len(other)) :]
            case _:
                data[at:at] = other[: rng.randrange(len(other))]
    return bytes(data)


def canonical(text: str) -> str:
    """Blanks and padding taken away, letters made small, the decimal comma made a point, the sign put in front."""
    text = re.sub(r"(?<=[0-9]),(?=[0-9]+(?![0-9.]))", ".", text).lower().replace("'", "")
    text = re.sub(r"(?<![0-9.]) +| +(?![0-9.])", "", text)  # a blank inside a number stays, and is no way to write it
    text = re.sub(r"(?<![0-9.])([0-9]+\.?[0-9]*)([+-])(?![0-9])", r"\2\1", text)
    text = re.sub(r"(?<![0-9.])0+(?=[0-9])", "", text)
    return re.sub(r"(?<=[0-9])\.(?![0-9])", "", text)


def ways_to_write(frame: Frame) -> set[str]:
    """Every canonical text of this family that means exactly this load."""
    assert frame.value is not None
    sign = frame.value.is_signed()
    digits = f"{abs(frame.value):f}"
    numbers = [f"-{digits}"] if sign else [digits, f"+{digits}"]
    units = SPELLINGS.get(frame.unit, [str(frame.unit).lower()])
    mode = frame.mode.value[0] if frame.mode else ""
    status = {True: ["st"], False: ["us"], None: []}[frame.stable]
    both = [f"{n}{u}" for n in numbers for u in units]
    parted = [f"{n}{c}{u}" for n in numbers for c in ("", ",", ";") for u in units]
    match frame.family:
        case "status-commas":
            heads = {True: ["st", "wt"], False: ["us"], None: ["pt"]}[frame.stable]
            headless = set(both) if frame.stable is None and frame.mode is None else set()
            return headless | {f"{h}{c}{p}" for h in heads for c in (",", ";", "") for p in parted}
        case "status-mode-commas":
            modes = {"g": ["gs", "g"], "n": ["nt", "n"], "t": ["tr", "t", "pt"]}[mode]
            return {f"{s},{m}{c}{p}" for s in status for m in modes for c in (",", "") for p in parted} | {
                f"{b},{m},{s}" for b in both for m in modes for s in status
            }
        case "reply-letter":
            heads = {
                True: ["ss", "s", "ts", "tis", "tas"],
                False: ["sd", "td", "tid", "tad"],
                None: [mode, "taa", "ta", "tia"],
            }
            return {f"{h}{b}" for h in heads[frame.stable] for b in both}
        case "value-unit":
            labels = ["w", "p", "wt", "weight", "load", "mass", "peso", "poids", "gewicht", "gew"] if not mode else []
            labels += {"g": ["g", "gs", "gr", "gross"], "n": ["n", "nt", "net"], "t": ["t", "pt", "tare", "tara"]}.get(
                mode, []
            )
            fronts = [""] * (not mode) + [f"{x}{c}" for x in labels for c in ("", ":", "=")]
            return {
                f"{f}{b}{c}{s}" for f in fronts for b in both for c, s in itertools.product(("", ","), ["", *status])
            }
        case "bare-number":
            return {f"{f}{n}" for f in ([mode] if mode else ["", "$"]) for n in numbers}
    raise AssertionError(frame.family)


ODD_LAYOUTS = {
    # Layouts with more than one number, checked by the lines themselves, are not written anew here.
    "status-commas": r"(?!(?:ST|US|QT|PT),)[A-Z0-9-]+,.*|.*:.*|.*/.*",
    "status-mode-commas": r"[0-9].*|.*[\x80-\xff].*",
    "reply-letter": r" *[0-9]+ +[NGT] .*",
    "value-unit": r"ID.*|.*(lb|LB|Lb|lB).*(oz|OZ|Oz|oZ).*",
    "bare-number": r" *@.*| *[0-9]+ .* .*",
}


@pytest.mark.parametrize("mutants", MUTANTS)
@pytest.mark.parametrize("family", WRITTEN)
def test_a_damaged_line_never_raises_and_is_a_load_only_when_it_is_well_formed(family: str, mutants: int) -> None:
    rng = random.Random(f"damage {family}")
    seeds = [x.raw for x in LINES if x.family == family and max(x.raw) < 0x80]
    loads = odd = 0
    for _ in range(mutants // len(WRITTEN)):
        mutant = damaged(rng, rng.choice(seeds), rng.choice(seeds))
        for frame in decode(family, mutant):
            if frame.kind is not Kind.WEIGHT:
                continue
            loads += 1
            text = frame.raw.removeprefix(b"\x02").decode("latin-1")
            if re.fullmatch(ODD_LAYOUTS[family], text):
                odd += 1
                continue
            assert canonical(text) in ways_to_write(frame), (frame, canonical(text))
    assert loads > 100, "the damage must leave enough well-formed lines for the check to mean something"
    assert odd < loads / 2


@pytest.mark.parametrize("family", WRITTEN)
def test_bytes_lost_from_a_steady_stream_never_give_a_wrong_load(family: str) -> None:
    rng = random.Random(f"loss {family}")
    line = next(x for x in LINES if x.family == family and x.kind is Kind.WEIGHT and x.raw.endswith(b"\r\n"))
    (good,) = decode(family, line.raw)
    for _ in range(1000):
        stream = bytearray(line.raw * 8)
        at = rng.randrange(len(line.raw) * 2, len(line.raw) * 5)
        del stream[at : at + rng.randint(1, len(line.raw) - 2)]
        sense, decoder = Sense(Expected(FAMILIES[family], "g")), Decoder(FAMILIES[family])
        heard = sense.hear(decoder.feed(bytes(stream)), len(stream), 0.0)
        assert len(heard) >= 3
        assert set(heard) == {message_of(good, "g")}
