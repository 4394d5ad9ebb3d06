"""Cost of a cast and of a good part, in hundredths of the currency."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from station.casting.purchase import KitOffer
from station.errors import Refused
from station.texts import t


@dataclass(frozen=True, slots=True)
class KitShare:
    """What of a kit one cast takes: `share` of it (0.02 is a fiftieth), at its whole `price` in hundredths."""

    title: str
    share: float
    price: int

    @property
    def cost(self) -> float:
        """Its part of the cost in hundredths."""
        return self.share * self.price


def taken_from(offers: Sequence[KitOffer], masses_g: Mapping[str, float]) -> tuple[KitShare, ...]:
    """The cheapest shares of kits that hold one cast: what material costs when kits are used up over many casts.

    minimise Σ price·share subject to Σ grams·share ≥ mass for each component, share ≥ 0: a linear programme. A
    component that a kit holds too much of is paid for with it. Raises Refused for one that no kit holds.
    """
    wanted = {name: grams for name, grams in masses_g.items() if grams > 0}
    missing = sorted(name for name in wanted if not any(kit.grams.get(name, 0.0) > 0 for kit in offers))
    if missing:
        raise Refused(
            t("The price of {missing} is not known.", missing=", ".join(missing)), t("Add a kit that holds it.")
        )
    if not wanted:
        return ()
    kits = sorted(offers, key=lambda kit: kit.title)
    # Counted in casts: how many casts a kit holds of each component keeps the numbers near one.
    held = [{name: kit.grams.get(name, 0.0) / grams for name, grams in wanted.items()} for kit in kits]
    found = _by_sizes([kit.price for kit in kits], held) or _by_programme([kit.price for kit in kits], held)
    return tuple(KitShare(kits[at].title, share, kits[at].price) for at, share in sorted(found.items()))


def _by_sizes(prices: Sequence[int], held: Sequence[Mapping[str, float]]) -> dict[int, float]:
    """The answer where kits differ in size alone, or hold different components: nothing where they mix otherwise.

    `held`: casts that each kit holds of each component. Of kits with the same components in the same proportion the one
    with the least price for a cast does it alone, whatever the other components come from. Most sheets are so, and
    scipy, which would find the same, takes 55 MB and half a second in which nobody else in this process gets on.
    """
    sizes: dict[frozenset[str], list[int]] = {}
    for at, kit in enumerate(held):
        if components := frozenset(name for name, casts in kit.items() if casts > 0):
            sizes.setdefault(components, []).append(at)
    if sum(map(len, sizes)) != len(frozenset().union(*sizes)):
        return {}  # a component can be had in two ways
    found: dict[int, float] = {}
    for components, kits in sizes.items():
        first = held[kits[0]]
        if any(not _alike([held[at][name] / first[name] for name in components]) for at in kits):
            return {}
        shares = {at: max(1 / held[at][name] for name in components) for at in kits}
        best = min(kits, key=lambda at: prices[at] * shares[at])
        found[best] = shares[best]
    return found


def _alike(ratios: Sequence[float]) -> bool:
    return max(ratios) <= min(ratios) * (1 + 1e-9)


def _by_programme(prices: Sequence[int], held: Sequence[Mapping[str, float]]) -> dict[int, float]:
    """The answer for any kits, by scipy."""
    import numpy as np
    from scipy.optimize import linprog

    casts = np.array([list(kit.values()) for kit in held]).T
    found = linprog(prices, A_ub=-casts, b_ub=-np.ones(len(casts)), bounds=(0, None))
    if found.x is None:
        raise Refused(t("These kits cannot be compared."), t("Check their masses and prices."))
    return {at: float(share) for at, share in enumerate(found.x) if share > 1e-12}


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


def of_cast(material: float, *, mold_price: int = 0, mold_lasts: int = 1, consumables: int = 0) -> CastCost:
    """What it takes of its kits (loss included, see `taken_from`), and the mold's price ÷ the casts that it lasts.

    All in hundredths. Raises Refused when the mold lasts for no cast.
    """
    if mold_lasts < 1:
        raise Refused(t("A mold that lasts for no cast has no share."), t("Type how many casts it is good for."))
    return CastCost(material, mold_price / mold_lasts, float(consumables))


def good_share(good: int, total: int) -> float:
    """Share of good parts to count with: (good + 1)/(total + 2), Laplace's rule, so that one lucky cast is not all.

    With no cast yet it is one in two. Raises Refused for more good parts than casts.
    """
    if not 0 <= good <= total:
        raise Refused(
            t("{good} good parts of {total} casts cannot be.", good=good, total=total),
            t("Type the good ones and all of them."),
        )
    return (good + 1) / (total + 2)


def of_good_part(cast_cost: float, share: float) -> float:
    """What a good part costs when `share` of the casts are good: the bad ones are paid by the good."""
    if not 0 < share <= 1:
        raise Refused(t("Some part must come out good."), t("Type a share above 0."))
    return cast_cost / share
