"""Framing: bytes into frames, whatever the pieces."""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from station.scale.families import FAMILIES
from station.scale.framing import LONGEST, MarkFramer, Marks
from tests.scale.lines import LINES, WRITTEN

BLOCKS = Marks(enders=b"\r\n\x03", starters=b"\x02", singles=b"\x06")
wire = st.binary(max_size=400) | st.lists(st.sampled_from([line.raw for line in LINES]), max_size=12).map(b"".join)


def fed(marks: Marks, pieces: list[bytes], synced: bool) -> list[bytes]:
    framer = MarkFramer(marks, synced)
    return [cut.body for piece in pieces for cut in framer.feed(piece)]


@settings(deadline=None)
@given(wire, st.lists(st.integers(0, 500)), st.booleans(), st.sampled_from([Marks(), BLOCKS]))
def test_however_the_bytes_are_cut_the_frames_are_the_same(
    data: bytes, cuts: list[int], synced: bool, marks: Marks
) -> None:
    places = [0, *sorted(c for c in cuts if c < len(data)), len(data)]
    pieces = [data[a:b] for a, b in itertools.pairwise(places)]
    whole = fed(marks, [data], synced)
    assert fed(marks, pieces, synced) == whole
    assert fed(marks, [bytes([b]) for b in data], synced) == whole


@settings(deadline=None)
@given(wire, st.sampled_from([Marks(), BLOCKS]))
def test_no_frame_is_empty_holds_an_ender_or_is_longer_than_the_cap(data: bytes, marks: Marks) -> None:
    for frame in fed(marks, [data], True):
        assert 0 < len(frame) <= LONGEST
        assert not set(frame) & set(marks.enders)
        assert not set(frame[1:]) & set(marks.starters)
        assert frame.strip(marks.starters)


def test_the_first_fragment_after_opening_is_dropped() -> None:
    assert fed(Marks(), [b"3.45  g\r\nST,+00123.45  g\r\n"], False) == [b"ST,+00123.45  g"]


def test_every_family_joined_and_cut_in_the_middle_of_a_line_loses_that_line_and_no_other() -> None:
    for family in WRITTEN:
        lines = [
            x.raw for x in LINES if x.family == family and x.raw.endswith((b"\r\n", b"\r")) and x.raw[:1] > b"\x06"
        ]
        torn = lines[0][len(lines[0]) // 2 :]
        frames = FAMILIES[family].framer(False).feed(torn + b"".join(lines[1:]))
        assert [cut.body for cut in frames] == [body for line in lines[1:] if (body := line.strip(b"\r\n\x03"))]


def test_cr_lf_crlf_and_lfcr_end_the_same_frame() -> None:
    for ender in (b"\r", b"\n", b"\r\n", b"\n\r", b"\r\n\r\n"):
        assert fed(Marks(), [b"12.34", ender, b"12.35", ender], True) == [b"12.34", b"12.35"]


def test_nothing_comes_out_before_the_ender() -> None:
    framer = MarkFramer(Marks(), synced=True)
    for byte in b"ST,+00123.45  g":
        assert framer.feed(bytes([byte])) == []
    assert [cut.body for cut in framer.feed(b"\r")] == [b"ST,+00123.45  g"]


def test_more_bytes_than_any_line_has_are_thrown_away_up_to_the_next_ender() -> None:
    flood = b"\xff" * (LONGEST + 1) + b"ST,+00001.00  g\r\n"
    assert fed(Marks(), [flood, b"ST,+00002.00  g\r\n"], True) == [b"ST,+00002.00  g"]


def test_a_starter_drops_the_unfinished_frame_before_it() -> None:
    assert fed(BLOCKS, [b"ST,GS,+00\x02ST,GS,+0001500 kg\r\x03"], True) == [b"\x02ST,GS,+0001500 kg"]


def test_a_starter_is_enough_to_be_in_step() -> None:
    assert fed(BLOCKS, [b"00 kg\x02ST,GS,+0001500 kg\r\x03"], False) == [b"\x02ST,GS,+0001500 kg"]


def test_filler_before_a_line_is_skipped_and_an_acknowledgement_stands_alone() -> None:
    assert fed(BLOCKS, [b"\x00\x00  1.25 kg\r\n\x06  1.26 kg\r\n"], True) == [b"  1.25 kg", b"\x06", b"  1.26 kg"]
