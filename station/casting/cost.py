"""Cost of a cast and of a good part, in hundredths of the currency."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from station.casting.purchase import KitOffer
from station.errors import Refused


def price_per_g(offer: KitOffer) -> float:
    """Hundredths per gram of a kit, all its components together. Raises Refused for an empty one."""
    grams = sum(offer.grams.values())
    if grams <= 0:
        raise Refused(f"Kit {offer.title!r} holds nothing.", "Type what is in it.")
    return offer.price / grams


def best_price_per_g(offers: Sequence[KitOffer]) -> float | None:
    """The lowest price per gram on offer, None without any: what a gram costs when enough of it is used."""
    return min(map(price_per_g, offers), default=None)


@dataclass(frozen=True, slots=True)
class CastCost:
    """What one cast costs, in hundredths: its material, its share of the mold, and what is used up with it."""

    material: float
    mold: float
    consumables: float

    @property
    def whole(self) -> float:
        """All of it."""
        return self.material + self.mold + self.consumables


def of_cast(
    masses_g: Mapping[str, float],
    per_g: Mapping[str, float],
    *,
    mold_price: int = 0,
    mold_lasts: int = 1,
    consumables: int = 0,
) -> CastCost:
    """Masses as weighed (loss included) × price per gram, and the mold's price ÷ the casts that it lasts.

    Raises Refused when a price is missing or the mold lasts for no cast.
    """
    missing = sorted(name for name in masses_g if name not in per_g)
    if missing:
        raise Refused(
            f"The price of {', '.join(missing)} is not known.", "Type it, or add kits to the material's sheet."
        )
    if mold_lasts < 1:
        raise Refused("A mold that lasts for no cast has no share.", "Type how many casts it is good for.")
    return CastCost(sum(g * per_g[name] for name, g in masses_g.items()), mold_price / mold_lasts, float(consumables))


def good_share(good: int, total: int) -> float:
    """Share of good parts to count with: (good + 1)/(total + 2), Laplace's rule, so that one lucky cast is not all.

    With no cast yet it is one in two. Raises Refused for more good parts than casts.
    """
    if not 0 <= good <= total:
        raise Refused(f"{good} good parts of {total} casts cannot be.", "Type the good ones and all of them.")
    return (good + 1) / (total + 2)


def of_good_part(cast_cost: float, share: float) -> float:
    """What a good part costs when `share` of the casts are good: the bad ones are paid by the good."""
    if not 0 < share <= 1:
        raise Refused("Some part must come out good.", "Type a share above 0.")
    return cast_cost / share
