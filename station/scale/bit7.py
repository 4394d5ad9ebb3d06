"""Character formats: how many bits a character has on the wire, and what its eighth bit means.

7E1, 7O1, 7N2 and 7M1 take the same ten bit times as 8N1. So the port is opened with eight data bits and no
parity, bit 7 is masked off when reading, and set by hand when sending. Only 8E1 and 8O1 need real parity.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from station.texts import N_


class Bit7(Enum):
    """What the eighth bit of each character is."""

    DATA = N_("data")
    EVEN = N_("even parity")
    ODD = N_("odd parity")
    ONE = N_("always one")


@dataclass(frozen=True, slots=True)
class CharacterFormat:
    """How the port is opened (`parity` N, E or O as pyserial has it) and what bit 7 then is."""

    parity: str = "N"
    stopbits: int = 1
    bit7: Bit7 = Bit7.DATA

    def read(self, data: bytes) -> bytes:
        """Received bytes as the scale meant them; one whose bit 7 is not as it should be keeps it set.

        No digit or letter has bit 7 set, so a line with a byte damaged on the way is no load.
        """
        return data if self.bit7 is Bit7.DATA else data.translate(_READ[self.bit7])

    def sent(self, data: bytes) -> bytes:
        """Bytes to write so that the scale accepts `data`."""
        return bytes(map(_SET[self.bit7], data))


FORMATS: Mapping[str, CharacterFormat] = MappingProxyType(
    {
        "8N1": CharacterFormat(),
        "8N2": CharacterFormat(stopbits=2),
        "8E1": CharacterFormat(parity="E"),
        "8O1": CharacterFormat(parity="O"),
        "7E1": CharacterFormat(bit7=Bit7.EVEN),
        "7O1": CharacterFormat(bit7=Bit7.ODD),
        "7N2": CharacterFormat(bit7=Bit7.ONE),
        "7M1": CharacterFormat(bit7=Bit7.ONE),
        "7E2": CharacterFormat(stopbits=2, bit7=Bit7.EVEN),
        "7O2": CharacterFormat(stopbits=2, bit7=Bit7.ODD),
    }
)
"""The character formats that the settings may name."""


def masked(data: bytes) -> bytes:
    """The low seven bits of each byte."""
    return bytes(byte & 0x7F for byte in data)


def rule_of(data: bytes) -> Bit7 | None:
    """What bit 7 is in `data`, read with eight data bits; None when no rule holds for every byte.

    Seven-bit text with even parity may by chance have bit 7 clear throughout: then it reads as DATA, and
    says the same. One whole line is enough: blank and CR have odd weight, LF and the digit 0 even weight.
    """
    return next((rule for rule in Bit7 if all(_SET[rule](byte & 0x7F) == byte for byte in data)), None)


def shares_of(data: bytes) -> dict[Bit7, float]:
    """For each rule the share of bytes in `data` that obey it, read with eight data bits; all 0 for no data."""
    size = len(data) or 1
    return {rule: sum(_SET[rule](byte & 0x7F) == byte for byte in data) / size for rule in Bit7}


def _even(byte: int) -> int:
    low = byte & 0x7F
    return low | 0x80 if low.bit_count() % 2 else low


_SET: Mapping[Bit7, Callable[[int], int]] = {
    Bit7.DATA: lambda byte: byte,
    Bit7.EVEN: _even,
    Bit7.ODD: lambda byte: _even(byte) ^ 0x80,
    Bit7.ONE: lambda byte: byte | 0x80,
}

_READ: Mapping[Bit7, bytes] = {
    rule: bytes(byte & 0x7F if put(byte & 0x7F) == byte else byte | 0x80 for byte in range(256))
    for rule, put in _SET.items()
}
"""For each rule the byte that is meant, by the byte that came."""
