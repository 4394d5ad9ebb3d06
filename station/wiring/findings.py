"""What is wrong with a choice of pins: two parts on one, one that sounds at boot, one that somebody else may own."""

from __future__ import annotations

from dataclasses import dataclass, replace

from station.errors import Refused
from station.texts import t
from station.wiring.header import HEADER, Owner, Pull, owner_of, pull_at_boot
from station.wiring.parts import drives
from station.wiring.plan import Connection, Plan, Role


@dataclass(frozen=True, slots=True)
class Shared:
    """Two parts on one pin: they cannot both work."""

    gpio: int
    roles: tuple[Role, ...]

    def words(self) -> str:
        """In a sentence or two."""
        named = ", ".join(role.words for role in self.roles)
        return t("GPIO {gpio} is given to more than one part: {parts}. Give each its own.", gpio=self.gpio, parts=named)


@dataclass(frozen=True, slots=True)
class PulledUp:
    """Something that sounds or shines on a pin that is pulled up until the station drives it."""

    at: Connection
    free: tuple[int, ...]

    def words(self) -> str:
        """In a sentence or two."""
        return t(
            "{part}: GPIO {gpio} (pin {pin}) is pulled up while the Pi starts, so the part may sound or light by "
            "itself. Free pins that are pulled down: GPIO {free}.",
            part=self.at.role.words,
            gpio=self.at.gpio,
            pin=self.at.pin.number,
            free=_listed(self.free),
        )


@dataclass(frozen=True, slots=True)
class Owned:
    """A part on a pin that something else may own."""

    at: Connection
    owner: Owner
    free: tuple[int, ...]

    def words(self) -> str:
        """In a sentence or two."""
        return t(
            "{part}: GPIO {gpio} (pin {pin}) may belong to {owner}. Free pins for it: GPIO {free}.",
            part=self.at.role.words,
            gpio=self.at.gpio,
            pin=self.at.pin.number,
            owner=t(self.owner.value),
            free=_listed(self.free),
        )


Finding = Shared | PulledUp | Owned


def findings(plan: Plan) -> tuple[Finding, ...]:
    """Everything that is wrong with the pins of a plan, the worst first; empty when nothing is."""
    return (
        *shared(plan),
        *(PulledUp(one, free(plan, one)) for one in plan.connections if _moves_at_boot(one)),
        *(
            Owned(one, owner, free(plan, one))
            for one in plan.connections
            if one.role is not Role.SENSOR and (owner := owner_of(one.gpio)) is not None
        ),
    )


def shared(plan: Plan) -> tuple[Shared, ...]:
    """The pins on which two parts are."""
    at: dict[int, list[Role]] = {}
    for one in plan.connections:
        at.setdefault(one.gpio, []).append(one.role)
    return tuple(Shared(gpio, tuple(roles)) for gpio, roles in at.items() if len(roles) > 1)


def demand_own_pins(plan: Plan) -> None:
    """Raises Refused when two parts are on one pin: then there is nothing to draw."""
    for one in shared(plan):
        raise Refused(one.words())


def free(plan: Plan, wanted: Connection) -> tuple[int, ...]:
    """The GPIO numbers where the part could be instead, with nothing to be said about them."""
    taken = {one.gpio for one in plan.connections}
    pins = sorted(pin.gpio for pin in HEADER if pin.gpio is not None and pin.gpio not in taken)
    return tuple(gpio for gpio in pins if owner_of(gpio) is None and not _moves_at_boot(replace(wanted, gpio=gpio)))


def _moves_at_boot(one: Connection) -> bool:
    return drives(one.part) and pull_at_boot(one.gpio) is Pull.UP


def _listed(gpios: tuple[int, ...]) -> str:
    return ", ".join(map(str, gpios))
