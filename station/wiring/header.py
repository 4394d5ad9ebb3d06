"""The 40 pins of the header: which number lies where, what it carries, and what it does before any program runs.

The layout is the public one that every board with the 40-pin header keeps. The pulls at boot are those of the column
"Pull" in the table of alternate functions, section 6.2 of "BCM2835 ARM Peripherals": high for GPIO 0 to 8, low for 9
to 27. That the chips of later boards keep them is from memory, and no board was measured for this.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.texts import N_


class Carries(Enum):
    """What a pin carries. The value is how it is named on a drawing."""

    V5 = N_("5 V")
    V3 = N_("3.3 V")
    GROUND = N_("ground")
    GPIO = "GPIO"


class Pull(Enum):
    """Where a pin is pulled from power-on until a program takes it."""

    UP = "up"
    DOWN = "down"


class Owner(Enum):
    """Who else may own a pin. The value is the owner in words, for a sentence."""

    BOARD_ID = N_("the memory of a plug-on board, which is read while the Pi starts")
    I2C = N_("the I²C bus; its pins are pulled up by resistors on the board, and GPIO 3 wakes a Pi that was shut down")
    ONE_WIRE = N_("the 1-Wire bus of the temperature sensor")
    SPI = N_("the SPI bus, where the boot settings switch it on")
    UART = N_("the serial console, which sends text while the Pi starts")


_GPIOS = {
    3: 2, 5: 3, 7: 4, 8: 14, 10: 15, 11: 17, 12: 18, 13: 27, 15: 22, 16: 23, 18: 24, 19: 10, 21: 9, 22: 25, 23: 11,
    24: 8, 26: 7, 27: 0, 28: 1, 29: 5, 31: 6, 32: 12, 33: 13, 35: 19, 36: 16, 37: 26, 38: 20, 40: 21,
}  # fmt: skip
_RAILS = {1: Carries.V3, 17: Carries.V3, 2: Carries.V5, 4: Carries.V5}
_OWNERS = {
    **dict.fromkeys((0, 1), Owner.BOARD_ID),
    **dict.fromkeys((2, 3), Owner.I2C),
    **dict.fromkeys((14, 15), Owner.UART),
    **dict.fromkeys(range(7, 12), Owner.SPI),
    4: Owner.ONE_WIRE,
}

ROWS = 20
ONE_WIRE_GPIO = 4
"""Where the 1-Wire bus is, unless the boot settings name another GPIO."""


@dataclass(frozen=True, slots=True)
class HeaderPin:
    """One pin: its number on the header, what it carries, and its GPIO number (BCM) where it has one."""

    number: int
    carries: Carries
    gpio: int | None = None

    @property
    def row(self) -> int:
        """Its row, from 0 at the end with pin 1."""
        return (self.number - 1) // 2

    @property
    def odd(self) -> bool:
        """Whether it stands in the row of pin 1."""
        return self.number % 2 == 1


def _pin(number: int) -> HeaderPin:
    if number in _GPIOS:
        return HeaderPin(number, Carries.GPIO, _GPIOS[number])
    return HeaderPin(number, _RAILS.get(number, Carries.GROUND))


HEADER = tuple(_pin(number) for number in range(1, 2 * ROWS + 1))
_BY_GPIO = {pin.gpio: pin for pin in HEADER if pin.gpio is not None}


def pin_of(gpio: int) -> HeaderPin:
    """The header pin of a GPIO number (BCM) from 0 to 27. Raises ValueError for another number."""
    if gpio not in _BY_GPIO:
        raise ValueError(f"GPIO {gpio} is not on the header")
    return _BY_GPIO[gpio]


def pull_at_boot(gpio: int) -> Pull:
    """Where a GPIO (BCM) is pulled until a program takes it."""
    return Pull.UP if gpio <= 8 else Pull.DOWN


def owner_of(gpio: int) -> Owner | None:
    """Who else may own this GPIO (BCM); None for a free one."""
    return _OWNERS.get(gpio)
