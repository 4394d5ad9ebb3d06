"""Frames of bare digits, bits and check bytes."""

from __future__ import annotations

from station.simulated.voices.load import Load

_UNIT_BITS = {"lb": (0, 0), "kg": (0x10, 0), "g": (0x10, 1), "oz": (0, 3)}
"""Bit 4 of the second status byte, and the low bits of the third."""


def stx_bits(load: Load) -> bytes:
    """STX, three status bytes, six digits of load and six of tare, CR, check: 18 bytes.

    First byte: bits 0-2 two more than the decimals, bits 3-4 the step (1), bit 5 set. Second: 1 negative, 2 out
    of range, 3 moving, 4 kg, 5 set. Third: bits 0-2 unit, 5 set. Check: two's complement of the sum, seven bits.
    """
    metric, unit = _UNIT_BITS[load.unit]
    moving = not load.stable and not load.overload
    first = 0x20 | 0x08 | (2 + load.decimals)
    second = 0x20 | metric | 2 * load.minus | 4 * load.overload | 8 * moving
    weight = "" if load.overload else load.digits.lstrip("0") or "0"
    frame = bytes((0x02, first, second, 0x20 | unit)) + f"{weight:>6}{'0':>6}\r".encode()
    return frame + bytes((-sum(frame) & 0x7F,))


def stx_xor(load: Load) -> bytes:
    """STX, sign, six digits, number of decimals, XOR of these eight as two hexadecimal digits, ETX: 12 bytes.

    Nothing for out of range is published: six nines.
    """
    digits = "9" * 6 if load.overload else f"{load.digits[-6:]:0>6}"
    body = f"{load.sign}{digits}{load.decimals}".encode()
    check = 0
    for byte in body:
        check ^= byte
    return b"\x02" + body + f"{check:02X}\x03".encode()


def mirror_equals(load: Load) -> bytes:
    """Equals sign, seven characters with the last digit first, then `-` or 0; no end. Out of range (ours): nines."""
    number = load.nines(7) if load.overload else f"{load.size:0>7}"
    return f"={number[::-1]}{'-' if load.minus else '0'}".encode()


def ff_bcd(load: Load) -> bytes:
    """FF, status, three bytes of two decimal digits each (low ones first), unit (0 kg, 1 lb): 6 bytes.

    Status: bits 0-2 decimals, 5 negative, 6 at rest, 7 out of range.
    """
    status = load.decimals | 0x20 * load.minus | 0x40 * load.stable | 0x80 * load.overload
    digits = "0" * 6 if load.overload else f"{load.digits[-6:]:0>6}"
    return bytes((0xFF, status)) + bytes.fromhex(digits)[::-1] + bytes((load.unit == "lb",))
