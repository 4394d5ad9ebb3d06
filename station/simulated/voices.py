"""Voices: a load as the bytes that a scale of one frame family would send, for the simulated scale.

Written from the same layouts as the station's grammars but without sharing a line with them, so that the one
checks the other. The names of the families are those of the settings.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from station.errors import SettingsError

Line = Callable[[Decimal, bool, bool], bytes]


def _status_commas(grams: Decimal, stable: bool, overload: bool) -> bytes:
    sign = "-" if grams < 0 else "+"
    if overload:
        return f"OL,{sign}999999.9  g\r\n".encode()
    return f"{'ST' if stable else 'US'},{sign}{abs(grams):0>8}  g\r\n".encode()


def _status_mode_commas(grams: Decimal, stable: bool, overload: bool) -> bytes:
    sign = "-" if grams < 0 else "+"
    if overload:
        return f"{'UL' if grams < 0 else 'OL'},GS,{sign}          g\r\n".encode()
    return f"{'ST' if stable else 'US'},GS,{sign}{abs(grams):>8} g\r\n".encode()


def _reply_letter(grams: Decimal, stable: bool, overload: bool) -> bytes:
    if overload:
        return b"S -\r\n" if grams < 0 else b"S +\r\n"
    return f"S {'S' if stable else 'D'} {grams:>10} g\r\n".encode()


def _value_unit(grams: Decimal, _stable: bool, overload: bool) -> bytes:
    if overload:
        return b"       -OL\r\n" if grams < 0 else b"        OL\r\n"
    return f"{grams:>10} g\r\n".encode()


def _bare_number(grams: Decimal, _stable: bool, overload: bool) -> bytes:
    sign = "-" if grams < 0 else "+"
    return f"{sign}{'9' * 8 if overload else format(abs(grams), '0>8')}\r\n".encode()


_LINES: dict[str, Line] = {
    "status-commas": _status_commas,
    "status-mode-commas": _status_mode_commas,
    "reply-letter": _reply_letter,
    "value-unit": _value_unit,
    "bare-number": _bare_number,
}
_ASKED = frozenset({"reply-letter"})


class Voice:
    """How one simulated scale talks. Raises SettingsError for a family that it does not speak."""

    def __init__(self, family: str) -> None:
        if family not in _LINES:
            raise SettingsError([f"The simulated scale does not speak {family!r}. It speaks {', '.join(_LINES)}."])
        self.family = family
        self.streams = family not in _ASKED
        self._heard = b""

    def line(self, grams: Decimal, stable: bool, overload: bool = False) -> bytes:
        """One line for this load; the decimals of `grams` are those on the wire. Below zero, overload is underload."""
        return _LINES[self.family](grams, stable, overload)

    def answer(self, heard: bytes, grams: Decimal, stable: bool, overload: bool = False) -> bytes:
        """What the scale sends for the requests that `heard` completes; nothing where it streams unasked.

        `SI` asks for the load now, `S` for a stable one (refused while the load moves); all else is unknown.
        """
        if self.streams:
            return b""
        *requests, self._heard = (self._heard + heard).split(b"\r\n")
        said = b""
        for request in requests:
            if request == b"SI" or (request == b"S" and stable):
                said += self.line(grams, stable, overload)
            else:
                said += b"S I\r\n" if request == b"S" else b"ES\r\n"
        return said
