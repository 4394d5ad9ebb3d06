"""Frames that open or close with a control character."""

from __future__ import annotations

from station.simulated.voices.load import Load


def lf_status_etx(load: Load) -> bytes:
    """LF, 1-7 number, unit in capitals, CR LF, status, CR ETX; `^` over and `_` under in the number's place."""
    number = ("_" if load.minus else "^") * 7 if load.overload else f"{load.signed:>7}"
    return f"\n{number}{load.unit.upper()}\r".encode() + lf_status(load)


def lf_status(load: Load) -> bytes:
    """LF, S, two bytes of 0x30 and bits (first: 0 moving, 1 at zero; second: 0 under, 1 over), CR ETX."""
    first = 0x30 | (not load.stable and not load.overload) | 2 * load.zero
    second = 0x30 | (load.overload and load.minus) | 2 * (load.overload and not load.minus)
    return bytes((0x0A, 0x53, first, second, 0x0D, 0x03))


def lf_flags(load: Load) -> bytes:
    """LF, 2 zero or range flag, 3 range, 4 G, 5 M while moving, 6 reserved, 7-16 number, 17-19 unit, CR: 20 bytes."""
    flag = ("U" if load.minus else "O") if load.overload else "Z" if load.zero else " "
    return f"\n{flag}1G{' ' if load.stable else 'M'} {load.signed:>10}{load.unit:<3}\r".encode()


def lf_flags_tare(load: Load) -> bytes:
    """The answer to a tare query: nothing is tared."""
    return f"\n 1T  {load.nought:>10}{load.unit:<3}\r".encode()


def stx_weight_cr(load: Load) -> bytes:
    """STX, six characters of number padded with zeros, CR; no unit. Moving or out of range only the status."""
    if load.overload or not load.stable:
        return stx_status(load)
    return f"\x02{load.signed.zfill(6)}\r".encode()


def stx_status(load: Load) -> bytes:
    """STX, question mark, a byte of bits (0 moving, 1 over, 2 under, 4 at zero, 5 and 6 set), CR."""
    bits = 0x60 | (not load.stable and not load.overload) | 0x10 * load.zero
    return bytes((0x02, 0x3F, bits | ((4 if load.minus else 2) if load.overload else 0), 0x0D))


def enq_five(load: Load) -> bytes:
    """STX, five digits without point and unit, ETX; letters while moving (I), negative (N), over range (S)."""
    if load.minus and load.number:
        return b"\x02NNNNN\x03"
    if load.overload:
        return b"\x02SSSSS\x03"
    if not load.stable:
        return b"\x02IIIII\x03"
    return f"\x02{load.digits[-5:]:0>5}\x03".encode()


def soh_block(load: Load) -> bytes:
    """SOH STX, S or U, sign (F out of range), six of number, two of unit, XOR of these ten, ETX EOT: 15 bytes."""
    number = f"F{'':6}" if load.overload else f"{load.blank_or_minus}{load.size:0>6}"
    body = f"{'S' if load.stable else 'U'}{number}{load.unit:>2}".encode()
    check = 0
    for byte in body:
        check ^= byte
    return b"\x01\x02" + body + bytes((check, 0x03, 0x04))


def stx_polarity(load: Load) -> bytes:
    """STX, 2 polarity, 3-9 number, 11-12 unit in capitals, 14-15 GR, 17 status, CR LF: 19 bytes.

    Status: blank, M moving, O over range, `-` under it; the number is then nines.
    """
    status = ("-" if load.minus else "O") if load.overload else " " if load.stable else "M"
    number = load.nines() if load.overload else load.size
    return f"\x02{load.blank_or_minus}{number:>7} {load.unit.upper():>2} GR {status}\r\n".encode()


def xon_frame(load: Load) -> bytes:
    """0x11, 2 sign, 3-11 number padded with zeros, 12-15 unit to the left, 0x13. Over range not published: nines."""
    number = "999999.99" if load.overload else f"{load.size:0>9}"
    return f"\x11{load.blank_or_minus}{number}{load.unit:<4}\x13".encode()
