"""What a cast costs, from the kits on its material's sheet and the mold's share."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from station.casting.cost import of_cast, taken_from
from station.casting.purchase import KitOffer
from station.core.material import Material, Mold
from station.core.plan import Share
from station.texts import N_, number, t


def price_of(material: Material, masses_g: Mapping[str, float]) -> float | None:
    """What these masses cost in hundredths, kits used up over many casts; None when a kit lacks one of them."""
    offers = [
        KitOffer(kit.title, {part.component: part.mass.g for part in kit.parts}, kit.price) for kit in material.kits
    ]
    held = {name for offer in offers for name in offer.grams}
    if not set(masses_g) <= held:
        return None
    return sum(share.cost for share in taken_from(offers, masses_g))


_WITH_MOLD = N_("Costs about {price} with the share of the mold, by the kits on its sheet.")
_ALONE = N_("Costs about {price}, by the kits on its sheet.")


def cost_note(material: Material, mold: Mold, shares: Iterable[Share]) -> str:
    """The cost of a cast as a sentence for its plan; empty when its sheet has no kits for it."""
    planned = tuple(shares)
    price = price_of(material, {share.ingredient: share.planned.g for share in planned if share.component})
    if price is None:
        return ""
    known = mold.price is not None and mold.lasts is not None
    cost = of_cast(price, mold_price=mold.price or 0, mold_lasts=mold.lasts or 1)
    additives = [share.ingredient for share in planned if not share.component]
    said = _WITH_MOLD if known else _ALONE
    whole = t(said, price=number(cost.whole / 100, ".2f"))
    return whole + t(" That is without {additives}.", additives=", ".join(additives)) if additives else whole
