"""Material and mold as their sheets describe them: plain values, already checked by whoever read the file."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.core.mass import ZERO, Mass


class Basis(Enum):
    """What a mix ratio counts: parts by weight, or parts by volume (then densities are needed)."""

    WEIGHT = "by weight"
    VOLUME = "by volume"


@dataclass(frozen=True, slots=True)
class Component:
    """One reactive part of a system. `density` in g/cm³ is None only when the basis is by weight."""

    name: str
    parts: float
    density: float | None = None


@dataclass(frozen=True, slots=True)
class Additive:
    """Pigment, thinner, accelerator or filler.

    `percent` is by weight of the component named `of`, or of all components together when `of` is
    "total" (the components without any additive). It is weighed into the cup of component `into`.
    `premix_s` is how long to stir it in before going on.
    """

    name: str
    percent: float
    of: str
    into: str
    premix_s: float = 0.0
    tolerance_percent: float = 10.0


TOTAL = "total"


@dataclass(frozen=True, slots=True)
class Times:
    """Times of a sheet in seconds at its reference temperature.

    `pot_life_s` is a maximum from first contact. `mix_s`, `demold_s` and `full_cure_s` are minima.
    `pour_reserve_s` is the part of the pot life kept for pouring: mixing must stop that much before its end.
    """

    pot_life_s: float
    mix_s: float
    pour_reserve_s: float
    demold_s: float
    full_cure_s: float | None = None
    reference_c: float = 23.0


@dataclass(frozen=True, slots=True)
class Material:
    """A two- (or more-) component system as its technical data sheet describes it.

    `weigh_order` lists component names in the order in which they are weighed. `pour_into` names the
    component whose cup receives the others when each component has its own cup. `tolerance_percent` is
    the allowed error of each component's mass, as ± % of its target. `cling_percent` is what stays in a
    poured-out cup, as % of what it held, until the station has learned better.
    """

    key: str
    title: str
    components: tuple[Component, ...]
    basis: Basis
    times: Times
    tolerance_percent: float
    weigh_order: tuple[str, ...]
    pour_into: str
    additives: tuple[Additive, ...] = ()
    cling_percent: float = 1.0
    ready_items: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    example: bool = False


@dataclass(frozen=True, slots=True)
class Mold:
    """What is poured into. `shot` is the usual total mixed mass; `closes` says whether a lid is clamped on."""

    key: str
    title: str
    shot: Mass | None = None
    closes: bool = True
    ready_items: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lot:
    """One container of one component or additive: `left` is the mass that is in it, None when not known."""

    component: str
    number: str
    left: Mass | None = None


@dataclass(frozen=True, slots=True)
class Cup:
    """A mixing cup: how much mix it holds, and what it weighs empty where that is known."""

    capacity: Mass
    title: str = "cup"
    empty: Mass = ZERO


@dataclass(frozen=True, slots=True)
class ScaleCard:
    """What metrology needs to know of the scale: readability d, Max, and its filter's lag in seconds."""

    readability: Mass
    maximum: Mass
    lag_s: float = 0.5
