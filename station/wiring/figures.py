"""Values as they are read on a drawing and in a table: ohms, milliamperes, volts, farads and milliseconds."""

from __future__ import annotations

from station.texts import number


def ohms(ohm: float) -> str:
    """Such as "330 Ω", "4.7 kΩ"; three digits."""
    return f"{number(ohm / 1000, '.3g')} kΩ" if ohm >= 1000 else f"{number(ohm, '.3g')} Ω"


def milliamperes(amperes: float) -> str:
    """Such as "3.9 mA"; two digits, or all before the point."""
    value = amperes * 1000
    return f"{number(value, '.0f' if value >= 10 else '.2g')} mA"


def volts(value: float) -> str:
    """Such as "3.3 V"."""
    return f"{number(value)} V"


def nanofarads(farad: float) -> str:
    """Such as "100 nF"."""
    return f"{number(farad * 1e9, '.3g')} nF"


def milliseconds(seconds: float) -> str:
    """Such as "1.1 ms"; two digits."""
    return f"{number(seconds * 1000, '.2g')} ms"
