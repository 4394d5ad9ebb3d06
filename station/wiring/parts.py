"""What is wired, as kinds of parts with their currents and worked-out resistors. Volts, amperes, ohms, farads.

The figures of a kind are what the circuit is laid out for: a part that takes less will do, one that takes more will
not. They are usual figures of such parts, from memory, and stand in the table of parts so that they can be compared.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.wiring.resistors import charged_after_s, current_a, next_above, next_below, series_ohm, time_constant_s

LOGIC_V = 3.3
SUPPLY_V = 5.0
HIGH_V = 2.0
"""From here on an input surely reads high: the highest of the limits that the chips' data sheets give, from memory."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """A light-emitting diode straight at a pin: red, yellow or yellow-green. A blue or white one drops too much."""

    drop_v: float = 2.0
    wanted_a: float = 0.004

    @property
    def ohm(self) -> float:
        """In series with it."""
        return next_above(series_ohm(LOGIC_V, self.drop_v, self.wanted_a))

    @property
    def pin_a(self) -> float:
        """What the pin gives."""
        return current_a(LOGIC_V, self.drop_v, self.ohm)


@dataclass(frozen=True, slots=True)
class Buzzer:
    """An active buzzer for 5 V, switched by an NPN transistor whose base gets a tenth of what the buzzer takes."""

    buzzer_a: float = 0.03
    base_v: float = 0.7
    drive: float = 10.0
    hold_off_ohm: float = 10_000.0
    """From base to ground: silent while nothing drives the pin."""

    @property
    def ohm(self) -> float:
        """Between pin and base."""
        return next_below(series_ohm(LOGIC_V, self.base_v, self.buzzer_a / self.drive))

    @property
    def pin_a(self) -> float:
        """What the pin gives; what flows through `hold_off_ohm` is too little to count."""
        return current_a(LOGIC_V, self.base_v, self.ohm)


@dataclass(frozen=True, slots=True)
class Tone:
    """A piezo disc without electronics, straight at a pin: a capacitor that is charged at each edge."""

    peak_a: float = 0.008

    @property
    def ohm(self) -> float:
        """In series with it."""
        return next_above(series_ohm(LOGIC_V, 0.0, self.peak_a))

    @property
    def pin_a(self) -> float:
        """What the pin gives at each edge, for microseconds."""
        return current_a(LOGIC_V, 0.0, self.ohm)


@dataclass(frozen=True, slots=True)
class Contact:
    """A normally open contact on a cable, with its own pull-up and a filter before the pin."""

    pull_up_ohm: float = 10_000.0
    ohm: float = 1_000.0
    """Between cable and pin: also what holds the current down when the pin was made an output by mistake."""
    farad: float = 100e-9

    @property
    def rail_a(self) -> float:
        """What the 3.3 V rail gives while it is closed."""
        return LOGIC_V / self.pull_up_ohm

    @property
    def closes_s(self) -> float:
        """Time constant with which the pin follows a closing contact."""
        return time_constant_s(self.ohm, self.farad)

    @property
    def opens_s(self) -> float:
        """Time constant with which the pin follows an opening contact."""
        return time_constant_s(self.pull_up_ohm + self.ohm, self.farad)

    @property
    def read_open_s(self) -> float:
        """From the opening of the contact until the pin surely reads high."""
        return charged_after_s(self.pull_up_ohm + self.ohm, self.farad, LOGIC_V, HIGH_V)


@dataclass(frozen=True, slots=True)
class Sensor:
    """A 1-Wire temperature sensor with three wires, and the pull-up that its bus needs."""

    pull_up_ohm: float = 4_700.0
    measuring_a: float = 0.0015

    @property
    def rail_a(self) -> float:
        """What the 3.3 V rail gives while it measures and the bus is low."""
        return self.measuring_a + LOGIC_V / self.pull_up_ohm


Part = Lamp | Buzzer | Tone | Contact | Sensor


def drives(part: Part) -> bool:
    """Whether the pin is an output, so that a pull at boot moves it."""
    return isinstance(part, Lamp | Buzzer | Tone)
