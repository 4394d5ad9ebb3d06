"""Material and mold as their sheets describe them: plain values, already checked by whoever read the file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import Enum

from station.casting.chemistry import Chemistry
from station.core.mass import ZERO, Mass
from station.texts import N_


class Basis(Enum):
    """What a mix ratio counts: parts by weight, or parts by volume (then densities are needed)."""

    WEIGHT = N_("by weight")
    VOLUME = N_("by volume")


@dataclass(frozen=True, slots=True)
class Component:
    """One reactive part of a system.

    `parts` go with the material's basis; `density` in g/cm³ is None only when that is by weight. `other_parts` are
    those of the other basis where the sheet gives both. `isocyanate` marks the side that moisture ruins;
    `nco_percent` and `oh_number` (mg KOH/g) are for the equivalents. `opened_life_d`: days it keeps once opened.
    """

    name: str
    parts: float
    density: float | None = None
    other_parts: float | None = None
    isocyanate: bool = False
    nco_percent: float | None = None
    oh_number: float | None = None
    opened_life_d: float | None = None


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
class TimesAt:
    """What a sheet says for another temperature; None where it is silent."""

    celsius: float
    pot_life_s: float | None = None
    demold_s: float | None = None


@dataclass(frozen=True, slots=True)
class PotLifeOf:
    """The pot life that a sheet gives for a mixed mass, at its reference temperature."""

    mass_g: float
    pot_life_s: float


@dataclass(frozen=True, slots=True)
class Times:
    """Times of a sheet in seconds at its reference temperature.

    `pot_life_s` is a maximum from first contact, for `pot_life_g` grams of mix where the sheet says so. `mix_s`,
    `demold_s` and `full_cure_s` are minima. `pour_reserve_s` is the part of the pot life kept for pouring: mixing
    must stop that much before its end. `coldest_c` and `warmest_c` are the sheet's limits of use.
    `activation_kj` (kJ/mol) drives all of them with temperature; `at` is the sheet's own table instead.
    """

    pot_life_s: float
    mix_s: float
    pour_reserve_s: float
    demold_s: float
    full_cure_s: float | None = None
    reference_c: float = 23.0
    pot_life_g: float | None = None
    pot_life_by_mass: tuple[PotLifeOf, ...] = ()
    coldest_c: float | None = None
    warmest_c: float | None = None
    activation_kj: float | None = None
    at: tuple[TimesAt, ...] = ()


@dataclass(frozen=True, slots=True)
class FoamFacts:
    """What a foam's sheet says of its rise. Densities in g/cm³; `expansion` is free-rise volume ÷ liquid volume.

    `packing_low` and `packing_high` bound the packing factor (molded ÷ free-rise density) that it is meant for.
    """

    free_rise_density: float | None = None
    expansion: float | None = None
    packing_low: float | None = None
    packing_high: float | None = None


@dataclass(frozen=True, slots=True)
class KitPart:
    """How much of one component a kit holds."""

    component: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class Kit:
    """A size in which a material is bought; `price` in hundredths of the currency."""

    title: str
    parts: tuple[KitPart, ...]
    price: int


@dataclass(frozen=True, slots=True)
class Material:
    """A two- (or more-) component system as its technical data sheet describes it.

    `weigh_order` lists component names in the order in which they are weighed. `pour_into` names the
    component whose cup receives the others when each component has its own cup. `tolerance_percent` is
    the allowed error of each component's mass, as ± % of its target. `cling_percent` is what stays in a
    poured-out cup, as % of what it held, until the station has learned better. `density` is that of the mix
    before any rise, g/cm³. `shrinkage_percent` is linear. `hardness` is as the sheet writes it.
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
    chemistry: Chemistry = Chemistry.OTHER
    density: float | None = None
    foam: FoamFacts | None = None
    hardness: str = ""
    shrinkage_percent: float | None = None
    kits: tuple[Kit, ...] = ()

    def ingredients(self) -> tuple[str, ...]:
        """The names of all that goes into it: its components, then its additives."""
        return (*(c.name for c in self.components), *(a.name for a in self.additives))

    def component(self, name: str) -> Component | None:
        """The component of this name."""
        return next((component for component in self.components if component.name == name), None)


@dataclass(frozen=True, slots=True)
class Mold:
    """What is poured into. `shot` is the usual total mixed mass; `closes` says whether a lid is clamped on.

    `cavity_cm3` is its volume; for foam `packing` is the packing factor wanted. `price` (hundredths) is what the mold
    cost to make, to be borne by `lasts` casts. `shrinkage_percent` is linear: by how much parts come out smaller.
    `release_every`: shots between two applications of release agent, None where the sheet does not ask for any.
    """

    key: str
    title: str
    shot: Mass | None = None
    closes: bool = True
    ready_items: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    cavity_cm3: float | None = None
    packing: float | None = None
    price: int | None = None
    lasts: int | None = None
    shrinkage_percent: float | None = None
    release_every: int | None = None


@dataclass(frozen=True, slots=True)
class Lot:
    """One container of one component or additive: `left` is the mass that is in it, None when not known.

    `material` is the key of the material it belongs to ("": any). `empty` is what the bare container weighs.
    """

    component: str
    number: str
    left: Mass | None = None
    material: str = ""
    empty: Mass | None = None
    opened: date | None = None
    best_before: date | None = None


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
