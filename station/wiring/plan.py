"""What is wired where, from the settings: each part with its pin, and the wires from the header to the parts' board.

All parts stand on one small board (a strip board, or terminals on a rail) with a rail each for ground, 3.3 V and 5 V.
One wire goes to each rail and one to each part, so no pin of the header holds two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from station.config import ClimateSettings, SignalSettings
from station.core.lamps import Lamp as LampName
from station.texts import N_, t
from station.wiring.header import HEADER, ONE_WIRE_GPIO, Carries, HeaderPin, pin_of
from station.wiring.parts import Buzzer, Contact, Lamp, Part, Sensor, Tone


class Role(Enum):
    """A part by what it is for. The value is its name, of a lamp what it says."""

    BUZZER = N_("buzzer")
    TONE = N_("tonal buzzer")
    LAMP_READY = LampName.READY.value
    LAMP_BUSY = LampName.BUSY.value
    LAMP_ATTENTION = LampName.ATTENTION.value
    PEDAL = N_("pedal")
    BUTTON = N_("button")
    SENSOR = N_("temperature sensor")

    @property
    def key(self) -> str:
        """Its key in the settings; the sensor has none of its own."""
        return self.name.lower()

    @property
    def words(self) -> str:
        """Its name as it is said."""
        name = t(self.value)
        return t('lamp "{name}"', name=name) if self.name.startswith("LAMP") else name


KINDS: Mapping[Role, Part] = MappingProxyType(
    {
        Role.BUZZER: Buzzer(),
        Role.TONE: Tone(),
        Role.LAMP_READY: Lamp(),
        Role.LAMP_BUSY: Lamp(),
        Role.LAMP_ATTENTION: Lamp(),
        Role.PEDAL: Contact(),
        Role.BUTTON: Contact(),
        Role.SENSOR: Sensor(),
    }
)
"""What each part is laid out for."""

_SET = tuple(role for role in Role if role is not Role.SENSOR)


@dataclass(frozen=True, slots=True)
class Connection:
    """One part at one GPIO (BCM number), with the figures of its kind."""

    role: Role
    gpio: int
    part: Part

    @property
    def pin(self) -> HeaderPin:
        """Where it is on the header."""
        return pin_of(self.gpio)


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire from a pin of the header to a part, or to a rail."""

    pin: HeaderPin
    to: Role | Carries


@dataclass(frozen=True, slots=True)
class Plan:
    """All parts that the settings name, in the order of `Role`."""

    connections: tuple[Connection, ...]

    @property
    def rails(self) -> tuple[Carries, ...]:
        """The rails that these parts need."""
        parts = [one.part for one in self.connections]
        needed = {
            Carries.V5: any(isinstance(part, Buzzer) for part in parts),
            Carries.V3: any(isinstance(part, Contact | Sensor) for part in parts),
            Carries.GROUND: bool(parts),
        }
        return tuple(rail for rail, wanted in needed.items() if wanted)

    @property
    def wires(self) -> tuple[Wire, ...]:
        """Each wire, along the header from pin 1; each rail at the first pin that carries it."""
        rails = [Wire(next(pin for pin in HEADER if pin.carries is rail), rail) for rail in self.rails]
        parts = [Wire(one.pin, one.role) for one in self.connections]
        return tuple(sorted((*rails, *parts), key=lambda wire: wire.pin.number))


def planned(signals: SignalSettings, climate: ClimateSettings, kinds: Mapping[Role, Part] = KINDS) -> Plan:
    """The plan of these settings. A sensor that is only looked for gives way to a part on its pin."""
    pins = {role: getattr(signals, role.key) for role in _SET}
    connections = [Connection(role, pin, kinds[role]) for role, pin in pins.items() if pin is not None]
    taken = any(one.gpio == ONE_WIRE_GPIO for one in connections)
    if climate.sensor != "none" and not (taken and climate.sensor == "found"):
        connections.append(Connection(Role.SENSOR, ONE_WIRE_GPIO, kinds[Role.SENSOR]))
    return Plan(tuple(connections))
