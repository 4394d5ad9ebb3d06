"""What a cast costs, from the kits on its material's sheet and the mold's share."""

from __future__ import annotations

from station.casting.cost import best_price_per_g
from station.casting.purchase import KitOffer
from station.core.mass import Mass
from station.core.material import Material, Mold


def cost_hundredths(material: Material, mold: Mold, total: Mass) -> float | None:
    """Material at the best price on its sheet, and the mold's share; None without any kit."""
    offers = [
        KitOffer(kit.title, {part.component: part.mass.g for part in kit.parts}, kit.price) for kit in material.kits
    ]
    per_g = best_price_per_g(offers)
    if per_g is None:
        return None
    return per_g * total.g + ((mold.price or 0) / mold.lasts if mold.lasts else 0.0)


def cost_note(material: Material, mold: Mold, total: Mass) -> str:
    """The cost as a sentence for the plan; empty when it is not known."""
    cost = cost_hundredths(material, mold, total)
    if cost is None:
        return ""
    share = " with the mold's share" if mold.price and mold.lasts else ""
    return f"Costs about {cost / 100:.2f}{share}, at the best price of its sheet."
