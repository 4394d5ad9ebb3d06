"""The bytes that may be sent to an unknown scale, and the settings to try them at. Pure.

A byte that asks one family for its reading zeroes, tares or switches off another. Here stand only queries for which no
family is documented to do any such thing; the doubtful ones come last and only where nothing else was answered.
Sources: lists of commands in the manuals of the families; whoever adds a line must look at all of them.
"""

from __future__ import annotations

ENQUIRY = b"\x05"
SEND = b"\x11"
"""After ENQ was acknowledged."""

CLEAR = b"\r\n"
"""Ends whatever a line buffer kept of bytes that made no sense, or the next question would be part of it."""

FIRST = (ENQUIRY, CLEAR, b"SI\r\n", b"\nW\r", b"w", CLEAR)
"""For every setting: enquiry; load now; weight; weight."""

LATER = (b"S\r\n", b"O8\r\n", b"D05\r\n", b"\x1bP\r\n")
"""Only when nothing of `FIRST` was answered at any setting: stable load; load now; load once; print."""

WAIT_S = 0.35
CLEAR_WAIT_S = 0.15
LATER_WAIT_S = 1.0
STABLE_WAIT_S = 3.0

SETTINGS = (
    (9600, "8N1"),
    (2400, "7E1"),
    (9600, "7E1"),
    (1200, "7O1"),
    (4800, "8N1"),
    (1200, "8N1"),
    (19200, "8N1"),
    (2400, "8N1"),
    (4800, "7E1"),
    (9600, "8O1"),
    (38400, "8N1"),
    (115200, "8N1"),
    (57600, "8N1"),
)
"""Bit rates and character formats, the commonest first."""

RATES = (9600, 2400, 4800, 1200, 19200, 38400, 115200, 57600, 600)
"""Bit rates of a scale that talks unasked, the commonest first. Its character format shows in the bytes."""

HARMLESS = frozenset((*FIRST, *LATER, SEND))


def wait_for(query: bytes) -> float:
    """Seconds in which an answer should have begun."""
    if query == CLEAR:
        return CLEAR_WAIT_S
    if query == b"S\r\n":
        return STABLE_WAIT_S
    return LATER_WAIT_S if query in LATER else WAIT_S
