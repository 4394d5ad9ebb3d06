"""Purchase: the cheapest set of kits that covers what is needed, as a small integer programme solved exactly."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from station.errors import Refused
from station.texts import t

MOST_OF_A_KIT = 10_000
MOST_KITS = 20
SEARCH_S = 3.0
"""Seconds for one search. Sizes that people sell take milliseconds; sizes without a common measure can be made
that take for ever, and this runs beside a bench where seconds count."""
ENOUGH_MG = 49
"""So much short (and at most a thousandth) counts as enough: no bench scale tells it, and it keeps the solver's whole
numbers, true to a millionth, away from the edge. Our own choice."""
OUT_OF_TIME = 1
"""scipy's word for a search that met its limit."""


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
    no gap allowed, then again among the equally cheap. Prices count in hundredths, masses in milligrams,
    and a set that is short by less than 0.05 g of a component covers it. The order of the offers does not
    matter. Raises Refused when no number of kits covers the need, and when the search would take too long.
    """
    kits = sorted(offers, key=lambda kit: kit.title)
    if len(kits) > MOST_KITS:
        raise Refused(
            t("{kits} kits are more than the {most_kits} that are compared.", kits=len(kits), most_kits=MOST_KITS),
            t("Leave the dearest out."),
        )
    if len({kit.title for kit in kits}) < len(kits):
        raise Refused(t("Two kits on offer share a title."), t("Give each a title of its own."))
    wanted = {name: grams for name, grams in need_g.items() if grams > 0}
    rows = [_row(name, grams, kits) for name, grams in wanted.items()]
    if not rows:
        return Purchase({}, 0, {})
    limits = [_limit(kit, at, rows) for at, kit in enumerate(kits)]
    prices = _Row([kit.price for kit in kits], 0)
    weights = _Row([round(1000 * sum(kit.grams.get(name, 0.0) for name in wanted)) for kit in kits], 0)
    cheap = _solved(prices.values, rows, limits)
    price = _Row(prices.values, prices.of(cheap))
    # At the edge the solver may take a set that is a few milligrams shorter yet: the later steps must not deny it.
    reached = [_Row(row.values, min(row.bound, row.of(cheap))) for row in rows]
    light = _solved(weights.values, reached, limits, price)
    fewer = _solved([1] * len(kits), reached, limits, price, _Row(weights.values, weights.of(light)))
    held = {name: sum(n * kit.grams.get(name, 0.0) for n, kit in zip(fewer, kits, strict=True)) for name in wanted}
    _checked(all(held[name] > grams - 0.1 for name, grams in wanted.items()), fewer, limits, price)
    surplus = {name: max(0.0, held[name] - grams) for name, grams in wanted.items()}
    return Purchase({kit.title: n for kit, n in zip(kits, fewer, strict=True) if n}, price.bound, surplus)


@dataclass(frozen=True, slots=True)
class _Row:
    """Σ values·n in whole units, and its bound."""

    values: Sequence[int]
    bound: int

    def of(self, counts: Sequence[int]) -> int:
        return sum(value * count for value, count in zip(self.values, counts, strict=True))


def _row(name: str, need_g: float, kits: Sequence[KitOffer]) -> _Row:
    """A component in whole milligrams; kits of one measure (1, 2, 5 kg) count in that measure. Raises Refused."""
    held = [round(kit.grams.get(name, 0.0) * 1000) for kit in kits]
    if not max(held, default=0) > 0:
        raise Refused(t("No kit on offer holds {name}.", name=name), t("Add a kit that does."))
    measure = math.gcd(*held)
    need = round(need_g * 1000)
    return _Row([each // measure for each in held], max(1, -(-(need - min(ENOUGH_MG, need // 1000)) // measure)))


def _limit(kit: KitOffer, at: int, rows: Sequence[_Row]) -> int:
    """More of a kit than the component that it serves least asks for never pays."""
    useful = max((-(-row.bound // row.values[at]) for row in rows if row.values[at] > 0), default=0)
    return min(useful, MOST_OF_A_KIT if kit.most is None else kit.most)


def _solved(costs: Sequence[int], rows: Sequence[_Row], limits: Sequence[int], *most: _Row) -> list[int]:
    """Whole numbers that cover every row at the least cost, each of `most` at or below its bound. Raises Refused."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    # All sums are whole: half a unit of room changes no answer and keeps the solver's rounding away from the edge.
    room = [LinearConstraint(np.array([row.values], dtype=float), lb=row.bound - 0.5) for row in rows]
    room += [LinearConstraint(np.array([row.values], dtype=float), ub=row.bound + 0.5) for row in most]
    found = milp(
        np.array(costs, dtype=float),
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.array(limits, dtype=float)),
        constraints=room,
        options={"mip_rel_gap": 0.0, "time_limit": SEARCH_S},
    )
    if found.status == OUT_OF_TIME:
        raise Refused(
            t("These kits have too many combinations to prove one the cheapest."),
            t("Leave out those that you would not buy."),
        )
    if found.x is None:
        raise Refused(
            t("The kits on offer do not cover the need, each taken as often as it may be."),
            t("Allow more of one, or add a kit."),
        )
    return [round(n) for n in found.x]


def _checked(enough: bool, counts: Sequence[int], limits: Sequence[int], price: _Row) -> None:
    """The solver works in floating point: its answer is held against need, limits and price once more."""
    within = all(0 <= n <= most for n, most in zip(counts, limits, strict=True))
    if not (enough and within and price.of(counts) == price.bound):
        raise Refused(
            t("These kits are too unlike in size or price to be compared exactly."),
            t("Leave the one that is far off out."),
        )


def reorder_at_g(use_g_per_day: float, delivery_days: float, safety_g: float = 0.0) -> float:
    """The stock at which to order: what is used until the delivery comes, and a reserve."""
    if use_g_per_day < 0 or delivery_days < 0 or safety_g < 0:
        raise Refused(t("Use, delivery and reserve cannot be negative."), t("Type zero or more."))
    return use_g_per_day * delivery_days + safety_g
