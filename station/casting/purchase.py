"""Purchase: the cheapest set of kits that covers what is needed, as a small integer programme solved exactly."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from station.errors import Refused

MOST_OF_A_KIT = 10_000


@dataclass(frozen=True, slots=True)
class KitOffer:
    """A size that can be bought: g of each component, price in hundredths, at most `most` of it (None: any number)."""

    title: str
    grams: Mapping[str, float]
    price: int
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Purchase:
    """How many of each kit, their price in hundredths, and g of each component beyond the need."""

    counts: Mapping[str, int]
    price: int
    surplus_g: Mapping[str, float]


def cheapest(offers: Sequence[KitOffer], need_g: Mapping[str, float]) -> Purchase:
    """The cheapest kits that hold at least `need_g`; of equally cheap sets the one with the fewest grams, then kits.

    minimise Σ price·n subject to Σ grams·n ≥ need for each component, n whole: solved by scipy's branch and cut with
    no gap allowed, then again among the equally cheap for the least surplus. Counted in whole milligrams and
    hundredths, and checked exactly. Raises Refused when no number of kits covers the need.
    """
    need = {name: math.ceil(grams * 1000 - 1e-6) for name, grams in need_g.items() if grams > 0}
    if not need:
        return Purchase({}, 0, {})
    held = [{name: round(kit.grams.get(name, 0.0) * 1000) for name in need} for kit in offers]
    missing = sorted(name for name in need if not any(row[name] for row in held))
    if missing:
        raise Refused(f"No kit on offer holds {', '.join(missing)}.", "Add a kit that does.")
    prices = [kit.price for kit in offers]
    limits = [_limit(kit, row, need) for kit, row in zip(offers, held, strict=True)]
    counts = _solved(prices, held, need, limits, None)
    price = sum(p * n for p, n in zip(prices, counts, strict=True))
    weights = [sum(row.values()) for row in held]
    lighter = _solved(weights, held, need, limits, (prices, price))
    fewer = _solved([1] * len(offers), held, need, limits, (prices, price), (weights, _dot(weights, lighter)))
    _checked(fewer, held, need, limits)
    surplus = {name: (_dot([row[name] for row in held], fewer) - mg) / 1000 for name, mg in need.items()}
    titles = (kit.title for kit in offers)
    return Purchase({title: n for title, n in zip(titles, fewer, strict=True) if n}, _dot(prices, fewer), surplus)


def _limit(kit: KitOffer, held: Mapping[str, int], need: Mapping[str, int]) -> int:
    """More of a kit than its emptiest useful component asks for never pays."""
    useful = max((math.ceil(need[name] / held[name]) for name in need if held[name]), default=0)
    return min(useful, MOST_OF_A_KIT if kit.most is None else kit.most)


def _dot(values: Sequence[int], counts: Sequence[int]) -> int:
    return sum(value * count for value, count in zip(values, counts, strict=True))


def _solved(
    costs: Sequence[int],
    held: Sequence[Mapping[str, int]],
    need: Mapping[str, int],
    limits: Sequence[int],
    *bounds: tuple[Sequence[int], int] | None,
) -> list[int]:
    """Whole numbers that cover the need at the least cost, with Σ values·n ≤ most for each of `bounds`."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows = [LinearConstraint(np.array([[row[name] / 1000 for row in held]]), need[name] / 1000) for name in need]
    rows += [LinearConstraint(np.array([values]), ub=most) for values, most in filter(None, bounds)]
    found = milp(
        np.array(costs, dtype=float),
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.array(limits, dtype=float)),
        constraints=rows,
        options={"mip_rel_gap": 0.0},
    )
    if found.x is None:
        raise Refused(
            "The kits on offer do not cover the need, each taken as often as it may be.",
            "Allow more of one, or add a kit.",
        )
    return [round(n) for n in found.x]


def _checked(
    counts: Sequence[int], held: Sequence[Mapping[str, int]], need: Mapping[str, int], limits: Sequence[int]
) -> None:
    """The solver works in floating point: what it found is held against the need in whole numbers."""
    enough = all(_dot([row[name] for row in held], counts) >= mg for name, mg in need.items())
    if not enough or any(not 0 <= n <= most for n, most in zip(counts, limits, strict=True)):
        raise ArithmeticError(f"the solver's answer {counts} does not cover {need}")


def reorder_at_g(use_g_per_day: float, delivery_days: float, safety_g: float = 0.0) -> float:
    """The stock at which to order: what is used until the delivery comes, and a reserve."""
    if use_g_per_day < 0 or delivery_days < 0 or safety_g < 0:
        raise Refused("Use, delivery and reserve cannot be negative.", "Type zero or more.")
    return use_g_per_day * delivery_days + safety_g
