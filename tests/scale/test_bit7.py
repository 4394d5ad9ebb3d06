"""Seven-bit characters read and sent through a port with eight data bits."""

from __future__ import annotations

import pytest

from station.scale.bit7 import FORMATS, Bit7, masked, rule_of
from station.scale.meaning import Kind
from station.scale.recording import decode
from tests.scale.lines import LINES

ASCII = [x for x in LINES if max(x.raw) < 0x80 and x.raw != b"\x06"]


def parity_bit(byte: int, even: bool) -> int:
    """The parity bit by its definition: the number of ones, parity bit included, is even (or odd)."""
    ones = bin(byte & 0x7F).count("1")
    return (ones % 2 if even else 1 - ones % 2) << 7


@pytest.mark.parametrize("name", ["7E1", "7O1", "7M1", "7N2"])
def test_text_of_any_seven_bit_format_is_recognised_read_and_sent_alike(name: str) -> None:
    for line in ASCII:
        if name in ("7E1", "7O1"):
            wire = bytes(b | parity_bit(b, name == "7E1") for b in line.raw)
        else:
            wire = bytes(b | 0x80 for b in line.raw)
        assert FORMATS[name].sent(line.raw) == wire
        assert FORMATS[name].read(wire) == line.raw
        assert rule_of(wire) is FORMATS[name].bit7 or (rule_of(wire) is Bit7.DATA and wire == line.raw)
        assert decode(line.family, wire)[0].kind is line.kind


def test_eight_bit_formats_leave_the_bytes_alone() -> None:
    everything = bytes(range(256))
    for name in ("8N1", "8N2", "8E1", "8O1"):
        assert FORMATS[name].read(everything) == FORMATS[name].sent(everything) == everything


def test_a_zero_line_of_a_scale_with_odd_parity_is_named_and_read() -> None:
    # Line in a public field log, where it was taken for garbage: zero, seven bits, odd parity.
    wire = b"  \xb0\xae\xb0\xb0 kg \r\x8a"
    assert rule_of(wire) is Bit7.ODD
    assert masked(wire) == b"  0.00 kg \r\n"
    (frame,) = decode("value-unit", wire)
    assert (frame.kind, frame.grams) == (Kind.WEIGHT, 0)


def test_one_wrong_bit_breaks_every_rule_so_that_nothing_is_put_right_by_guess() -> None:
    wire = bytearray(FORMATS["7E1"].sent(b"ST,+00123.45  g\r\n"))
    wire[6] ^= 0x80
    assert rule_of(bytes(wire)) is None
    assert all(frame.kind is Kind.OTHER for frame in decode("status-commas", bytes(wire)))
