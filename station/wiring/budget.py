"""How much the parts take from each pin and from the rails, and what these may give. Amperes.

The limits are those that are usually given for the header, from memory and not measured: 16 mA from a pin at its
highest drive strength, and 50 mA from all pins together, which was the limit of the first boards' 3.3 V supply.
"""

from __future__ import annotations

from dataclasses import dataclass

from station.wiring.parts import Buzzer, Contact, Lamp, Part, Sensor, Tone
from station.wiring.plan import Connection, Plan

PIN_A = 0.016
LOGIC_A = 0.050


@dataclass(frozen=True, slots=True)
class Budget:
    """What is taken when everything sounds, shines and is pressed at once."""

    pins: tuple[tuple[Connection, float], ...]
    """Every part that a pin drives, with what its pin gives."""
    rail3_a: float
    """From the 3.3 V rail, besides the pins."""
    rail5_a: float
    """From the 5 V rail."""

    @property
    def logic_a(self) -> float:
        """All that comes from the Pi's 3.3 V: pins and rail."""
        return sum(taken for _, taken in self.pins) + self.rail3_a

    @property
    def too_much(self) -> tuple[Connection, ...]:
        """The parts that take more than a pin may give."""
        return tuple(one for one, taken in self.pins if taken > PIN_A)

    @property
    def fits(self) -> bool:
        """Whether no pin and not all of them together give too much."""
        return not self.too_much and self.logic_a <= LOGIC_A


def budget(plan: Plan) -> Budget:
    """The sum over all parts of a plan."""
    parts = [one.part for one in plan.connections]
    pins = tuple((one, taken) for one in plan.connections if (taken := pin_a(one.part)) > 0)
    return Budget(pins, sum(map(_rail3_a, parts)), sum(map(_rail5_a, parts)))


def pin_a(part: Part) -> float:
    """What the pin itself gives; nothing to an input."""
    return part.pin_a if isinstance(part, Lamp | Buzzer | Tone) else 0.0


def _rail3_a(part: Part) -> float:
    return part.rail_a if isinstance(part, Contact | Sensor) else 0.0


def _rail5_a(part: Part) -> float:
    return part.buzzer_a if isinstance(part, Buzzer) else 0.0
