"""Lines that begin with a letter, or with the request that they answer."""

from __future__ import annotations

from station.simulated.voices.load import Load


def reply_letter(load: Load) -> bytes:
    """1 the request's letter, 3 status, 5-14 number, 16 unit; S and a sign when out of range."""
    if load.overload:
        return b"S -\r\n" if load.minus else b"S +\r\n"
    return f"S {'S' if load.stable else 'D'} {load.signed:>10} {load.unit}\r\n".encode()


def _marked(load: Load) -> str:
    """Mark, blank, sign, nine characters of number, blank, three of unit: 16 characters."""
    mark = ("v" if load.minus else "^") if load.overload else " " if load.stable else "?"
    return f"{mark} {load.blank_or_minus}{load.size:>9} {load.unit:<3}"


def echo_mark_print(load: Load) -> bytes:
    """The print key: no request in front; out of range the bare mark."""
    if load.overload:
        return b"v\r\n" if load.minus else b"^\r\n"
    return f"{_marked(load)}\r\n".encode()


def echo_mark(request: bytes, load: Load) -> bytes:
    """1-3 the request, 4 mark, 6 sign, 7-15 number, 17-19 unit to the left: 21 bytes with CR LF."""
    return request.ljust(3) + f"{_marked(load)}\r\n".encode()


def letter_first(load: Load) -> bytes:
    """1 S or U, 2 sign, 3-10 number, unit glued on, two wide; oL out of range."""
    return (b"S" if load.stable else b"U") + _unlettered(load)


def letter_first_reply(request: bytes, load: Load) -> bytes:
    """The same; D05 asks for it without the letter."""
    return _unlettered(load) if request == b"D05" else letter_first(load)


def _unlettered(load: Load) -> bytes:
    if load.overload:
        return f"{load.blank_or_minus}     oL   \r\n".encode()
    return f"{load.blank_or_minus}{load.size:>8}{load.unit:<2}\r\n".encode()


def status_letter_6(load: Load) -> bytes:
    """1 A at rest, C moving, E out of range (which way is not told), 2-7 number without point, CR only."""
    if load.overload:
        return b"E      \r"
    number = ("-" if load.minus else "") + load.digits.lstrip("0").rjust(1, "0")
    return f"{'A' if load.stable else 'C'}{number:>6}\r".encode()


def colon_type(load: Load) -> bytes:
    """1 colon, 2 W, 3 sign, 4-9 number, 10-11 unit, 12 S at rest, 13 L on a low battery, CR: 14 bytes.

    Out of range a message of the same length under M; its words are not published, these are ours.
    """
    if load.overload:
        return f":M{'  UNDER' if load.minus else '   OVER'}    \r".encode()
    rest = "S" if load.stable else " "
    return f":W{load.blank_or_minus}{load.size:0>6}{load.unit:<2}{rest} \r".encode()


def hash_print(load: Load) -> bytes:
    """1-8 number, the sign next to its first digit, 9 blank, 10 filter (blank here), 11 G, 12 S at rest.

    No word for out of range is published: OL with its sign in the number's place, blank status.
    """
    number = load.sign + ("OL" if load.overload else load.size)
    return f"{number:>8}  G{'S' if load.stable and not load.overload else ' '}\r\n".encode()


def echo_label(load: Load) -> bytes:
    """A word, 6-13 number, unit. No word for out of range is published: OL in the number's place."""
    word = ("-OL" if load.minus else "OL") if load.overload else load.signed
    return f"Gross{word:>8} {load.unit}\r\n".encode()


def echo_label_reply(request: bytes, load: Load) -> bytes:
    """The request comes back glued to the answer."""
    return request + echo_label(load)
