"""Factors: what may have differed between casts. The one place that knows where in the facts each stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from station.insight.facts import CastFacts
from station.texts import N_, number, t

PAUSE_DAYS = 3.0
"""A cast after more days without one counts as the first after a pause. Our own choice, made before any look."""


@dataclass(frozen=True, slots=True)
class Factor:
    """Something that has a number in each cast. `title` and `unit` are to be said with t(); `how` formats the number.

    `under` and `over` name the two sides of a cut within a sentence, with the place {at}. `ours`: whether a person can
    set it, so that a trial of it is possible.
    """

    key: str
    title: str
    unit: str
    how: str
    value: Callable[[CastFacts], float | None]
    under: str
    over: str
    ours: bool

    def said(self, value: float) -> str:
        """The number with its unit."""
        return f"{number(value, self.how)} {t(self.unit)}".strip().replace("-", "−")


def _percent(fraction: float | None) -> float | None:
    return None if fraction is None else 100 * fraction


FACTORS = (
    Factor("mix_s", N_("mix time"), "s", ".0f", lambda c: c.mix_s, N_("mixed under {at}"), N_("mixed longer"), True),
    Factor(
        "contact_to_pour_s",
        N_("first contact to pour"),
        "s",
        ".0f",
        lambda c: c.contact_to_pour_s,
        N_("poured within {at} of first contact"),
        N_("poured later"),
        True,
    ),
    Factor(
        "ratio_error",
        N_("ratio error"),
        "%",
        "+.2f",
        lambda c: _percent(c.ratio_error),
        N_("with a ratio error under {at}"),
        N_("with a higher one"),
        True,
    ),
    Factor(
        "mixed_g", N_("mass mixed"), "g", ".1f", lambda c: c.mixed_g, N_("with a mix under {at}"), N_("with more"), True
    ),
    Factor(
        "packing_factor",
        N_("packing factor"),
        "",
        ".3f",
        lambda c: c.packing_factor,
        N_("packed under {at}"),
        N_("packed tighter"),
        True,
    ),
    Factor(
        "temperature_c",
        N_("temperature"),
        "°C",
        ".1f",
        lambda c: c.temperature_c,
        N_("cast under {at}"),
        N_("cast warmer"),
        True,
    ),
    Factor(
        "humidity_percent",
        N_("humidity"),
        "%",
        ".0f",
        lambda c: c.humidity_percent,
        N_("cast in air under {at}"),
        N_("cast in damper air"),
        False,
    ),
    Factor(
        "cure_h",
        N_("time in the mold"),
        "h",
        ".1f",
        lambda c: None if c.cure_s is None else c.cure_s / 3600,
        N_("out of the mold within {at}"),
        N_("in the mold longer"),
        True,
    ),
    Factor(
        "mold_shot",
        N_("casts from the mold"),
        "",
        ".0f",
        lambda c: float(c.mold_shot),
        N_("before cast {at} of the mold"),
        N_("from an older mold"),
        False,
    ),
    Factor(
        "shots_since_release",
        N_("casts since release agent"),
        "",
        ".0f",
        lambda c: None if c.shots_since_release is None else float(c.shots_since_release),
        N_("less than {at} casts after release agent"),
        N_("more casts after it"),
        True,
    ),
)


def factor(key: str) -> Factor | None:
    """The factor of this key."""
    return next((one for one in FACTORS if one.key == key), None)


def lots_of(cast: CastFacts) -> dict[str, str]:
    """Lot number by component."""
    return dict(cast.lots)


def fresh_lot(casts: Sequence[CastFacts]) -> dict[int, bool]:
    """By cast number, whether a component came from another lot than in the cast of its material before.

    Casts without lots, or without such a cast before them, are left out.
    """
    found: dict[int, bool] = {}
    before: dict[str, dict[str, str]] = {}
    for cast in sorted(casts, key=lambda one: one.number):
        lots = lots_of(cast)
        if not lots:
            continue
        known = before.get(cast.material, {})
        shared = lots.keys() & known.keys()
        if shared:
            found[cast.number] = any(lots[name] != known[name] for name in shared)
        before[cast.material] = known | lots
    return found


def after_pause(cast: CastFacts) -> bool | None:
    """Whether it was the first cast after a pause; None when that is not known."""
    return None if cast.pause_days is None else cast.pause_days >= PAUSE_DAYS
