"""Every published line has its published meaning, however it arrives, and half of it has none."""

from __future__ import annotations

import re

import pytest

from station.scale.bit7 import FORMATS
from station.scale.decoder import Decoder
from station.scale.families import FAMILIES
from station.scale.meaning import Kind
from station.scale.recording import recorded_frames
from tests.scale.published import PUBLISHED, Published, meaning_of

each_line = pytest.mark.parametrize("line", PUBLISHED, ids=lambda x: f"{x.family}:{x.raw!r}")
OF_FAMILIES = [line for line in PUBLISHED if line.family in FAMILIES]
LOADS = [line for line in OF_FAMILIES if line.meaning.kind == "weight"]
NO_ENDER_NEEDED = {b"+0.485kg"}
FLAGS_LAST = re.compile(rb"\+0012\.5kg$")
"""Cut off before its flags this is a whole line of the relative that has none."""
LOOK_ALIKES = {
    # One line alone cannot say which of two families sent it; the other reading is the cautious one.
    b"        0.00 g     \r\n": "only a question mark, sooner or later, shows that its absence means rest",
    b"        200 g  \r\n": "the same",
    b"0.21kg\r\n": "mirrored digits only show in a stream",
}


@each_line
def test_a_line_of_a_known_family_has_its_published_meaning(line: Published) -> None:
    (found,) = recorded_frames(line.raw, line.family)
    assert meaning_of(found.frame) == line.meaning
    assert found.raw == line.raw
    assert found.frame.family == line.family


def test_every_family_of_the_table_is_tried_with_published_loads() -> None:
    assert {line.family for line in LOADS} == set(FAMILIES)


@each_line
def test_without_a_family_a_line_has_the_same_meaning_or_is_a_known_look_alike(line: Published) -> None:
    meanings = [meaning_of(found.frame) for found in recorded_frames(line.raw)]
    assert (meanings == [line.meaning]) is (line.raw not in LOOK_ALIKES)


@pytest.mark.parametrize("line", OF_FAMILIES, ids=lambda x: f"{x.family}:{x.raw!r}")
def test_byte_by_byte_and_in_two_pieces_the_line_is_the_same(line: Published) -> None:
    spec = FAMILIES[line.family]
    whole = _said(Decoder(spec, synced=True), [line.raw])
    assert _said(Decoder(spec, synced=True), [bytes([byte]) for byte in line.raw]) == whole
    for at in range(1, len(line.raw)):
        assert _said(Decoder(spec, synced=True), [line.raw[:at], line.raw[at:]]) == whole


@pytest.mark.parametrize("line", LOADS, ids=lambda x: f"{x.family}:{x.raw!r}")
def test_a_line_that_breaks_off_is_no_load_in_any_family(line: Published) -> None:
    if line.raw in NO_ENDER_NEEDED:
        return
    content = line.raw.rstrip(b"\r\n\x03\x04\x13\x8d\x8a")
    needs_all = content == line.raw or line.family == "soh-block"
    for end in range(len(line.raw) if needs_all else len(content) + 1):
        torn = line.raw[:end]
        found = recorded_frames(torn, line.family) + ([] if FLAGS_LAST.match(torn) else recorded_frames(torn))
        assert all(recorded.frame.kind is not Kind.WEIGHT for recorded in found), torn


@pytest.mark.parametrize("character", ["7E1", "7O1", "7M1"])
@pytest.mark.parametrize(
    "line",
    [x for x in OF_FAMILIES if max(x.raw) < 0x80 and len(x.raw) > 4],
    ids=lambda x: f"{x.family}:{x.raw!r}",
)
def test_seven_bit_text_read_with_eight_bits_has_the_same_meaning(line: Published, character: str) -> None:
    if FAMILIES[line.family].eight_bit:
        return
    (found,) = recorded_frames(FORMATS[character].sent(line.raw), line.family)
    assert meaning_of(found.frame) == line.meaning


@pytest.mark.parametrize("family", FAMILIES)
def test_a_stream_joined_in_mid_frame_loses_that_frame_and_no_other(family: str) -> None:
    # Frames without an ender, and lone control bytes, need no head and so lose nothing.
    lines = [
        x
        for x in LOADS
        if (x.family == family and x.raw not in NO_ENDER_NEEDED and max(x.raw) < 0x80) or family == "ff-bcd" == x.family
    ]
    if family == "mirror-equals":
        lines = [x for x in lines if x.raw[:1] == b"="]
    torn = lines[0].raw[len(lines[0].raw) // 2 :]
    said = _said(Decoder(FAMILIES[family]), [torn + b"".join(x.raw for x in lines * 2) + lines[0].raw])
    expected = [x.meaning for x in lines * 2]
    assert said[: len(expected)] == expected


def _said(decoder: Decoder, pieces: list[bytes]) -> list[object]:
    frames = [frame for piece in pieces for frame in decoder.feed(piece)]
    return [meaning_of(frame) for frame in frames + decoder.quiet()]
