"""Lines of fields between commas or dollars, and short words before the number."""

from __future__ import annotations

from station.simulated.voices.load import Load


def status_commas(load: Load) -> bytes:
    """1-2 status, comma, 4 sign, 5-12 number padded with zeros, 13-15 unit to the right."""
    if load.overload:
        return f"OL,{load.sign}999999.9{load.unit:>3}\r\n".encode()
    return f"{'ST' if load.stable else 'US'},{load.sign}{load.size:0>8}{load.unit:>3}\r\n".encode()


def status_mode_commas(load: Load) -> bytes:
    """1-2 status, 4-5 mode (GS gross), 7 sign, 8-15 number, blank, unit; blanks for the number out of range."""
    if load.overload:
        return f"{'UL' if load.minus else 'OL'},GS,{load.sign}{'':8} {load.unit}\r\n".encode()
    return f"{'ST' if load.stable else 'US'},GS,{load.sign}{load.size:>8} {load.unit}\r\n".encode()


def csv_flag(load: Load) -> bytes:
    """1 flag (0 at rest, 1 moving), then gross, tare, net of seven characters; no unit."""
    rest = "0" if load.stable else "1"
    if load.overload:
        word = "-   ol" if load.minus else "ol"
        return f"{rest},{word},{word},{word}\r\n".encode()
    # zfill keeps the minus in front of the zeros.
    number = load.signed.zfill(7)
    return f"{rest},{number},{load.nought:0>7},{number}\r\n".encode()


def dollar_fields(load: Load) -> bytes:
    """1 dollar, 2-10 net, 12-20 tare, 22-23 unit, 25-28 four hexadecimal status digits: 30 bytes with CR LF.

    What the status bits mean is not published: here 1 = moving, 2 = out of range, the number then dashes.
    """
    net = "-" * 9 if load.overload else f"{load.blank_or_minus}{load.size:>8}"
    status = (not load.stable) + 2 * load.overload
    return f"${net} {load.nought:>9} {load.unit:>2} {status:04X}\r\n".encode()


def prefix_wn(load: Load) -> bytes:
    """1-2 the letters wn (net), 3-9 number padded with zeros, kg. Out of range is not published: OL."""
    word = ("-OL" if load.minus else "OL").rjust(7) if load.overload else load.signed.zfill(7)
    return f"wn{word}kg\r\n".encode()


def value_unit(load: Load) -> bytes:
    """1-10 number, blank, unit."""
    word = ("-OL" if load.minus else "OL") if load.overload else load.signed
    return f"{word:>10}\r\n".encode() if load.overload else f"{word:>10} {load.unit}\r\n".encode()


def bare_number(load: Load) -> bytes:
    """1 sign, 2-9 number padded with zeros; all nines out of range."""
    return f"{load.sign}{'9' * 8 if load.overload else format(load.size, '0>8')}\r\n".encode()


def diy_board(load: Load) -> bytes:
    """The text of a hobby sketch; not a number when the cell fails."""
    return f"Weight: {'nan' if load.overload else load.signed} {load.unit}\r\n".encode()


def ticket(load: Load) -> bytes:
    """A printed slip: date, time and number of an invented weighing, a ruler line, the net load."""
    net = "Error" if load.overload else f"{load.signed} {load.unit}"
    lines = ("Date: 23/09/04", "Time: 15:45", "ID No: 000042", "-" * 20, f"Net: {net}", "")
    return "".join(f"{line}\r\n" for line in lines).encode()
