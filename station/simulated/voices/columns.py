"""Lines of fixed columns without a leading word: number, unit, and something at the end or nothing."""

from __future__ import annotations

from station.simulated.voices.load import Load


def sign_14(load: Load) -> str:
    """1 sign (blank at zero), 3-10 number, 12-14 unit to the left, blank while moving; H or L out of range."""
    if load.overload:
        return f"{'L' if load.minus else 'H':>7}".ljust(14)
    sign = " " if load.zero else load.sign
    return f"{sign} {load.size:>8} {load.unit if load.stable else '':<3}"


def sign_16(load: Load) -> bytes:
    """The fourteen columns of `sign_14` and CR LF."""
    return f"{sign_14(load)}\r\n".encode()


def sign_22(load: Load) -> bytes:
    """A label of six in front: N (net), or Stat before a status line."""
    return f"{'Stat' if load.overload else 'N':<6}{sign_14(load)}\r\n".encode()


def sign_26(load: Load) -> bytes:
    """1-4 label, 5 sign, 6-20 number, 22-24 unit, LF before CR: 26 bytes. Nothing tells that it moves."""
    if load.overload:
        return b"-------UL------\n\r" if load.minus else b"-------OL------\n\r"
    return f"    {load.sign}{load.size:>15} {load.unit:<3}\n\r".encode()


def digits_tail(load: Load) -> bytes:
    """1 sign, 2-8 number padded with zeros (a blank for the point of an integer), 9-10 unit in capitals,
    11 limit result (none here), 12 S at rest, U moving, E invalid: out of range is not told from other faults."""
    number = load.size if "." in load.size else load.size + " "
    tail = "E" if load.overload else "S" if load.stable else "U"
    if load.overload:
        number = "0" * len(number) if "." not in number else "00000.0"
    return f"{load.sign}{number:0>7}{load.unit.upper():>2} {tail}\r\n".encode()


def value_unit_s(load: Load) -> bytes:
    """1 sign, 2-9 number, 10-12 unit, 13 S at rest. No word for out of range is published: OL for the number."""
    number = "OL" if load.overload else load.size
    unit = f" {load.unit}"
    rest = "S" if load.stable and not load.overload else " "
    return f"{load.blank_or_minus}{number:>8}{unit:<3}{rest}\r\n".encode()


def short_14(load: Load) -> bytes:
    """1-2 sign, 3-9 number, 10-12 unit: 14 bytes. Nothing tells that it moves, nor (published) its range: OL."""
    number = "OL" if load.overload else load.size
    unit = f" {load.unit}"
    return f"{load.blank_or_minus} {number:>7}{unit:<3}\r\n".encode()


def blank_18(load: Load) -> bytes:
    """1 mark, 2 sign, 3-12 number, 14-16 unit to the left, blank while moving; Error out of range, either way."""
    if load.overload:
        return f"{'Error':>16}\r\n".encode()
    return f" {load.blank_or_minus}{load.size:>10} {load.unit if load.stable else '':<3}\r\n".encode()


def query_mark(load: Load) -> bytes:
    """1-12 number, 14-18 unit to the left, 19 a question mark while moving. Out of range is not published: OL."""
    number = ("-OL" if load.minus else "OL") if load.overload else load.signed
    return f"{number:>12} {load.unit:<5}{' ' if load.stable else '?'}\r\n".encode()
