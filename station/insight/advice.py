"""What to change next, for a material and a mold: each advice with its rule and interval, or why there is none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from station.core.advice_events import AdviceKind
from station.core.amount import free_rise
from station.core.judging_events import Verdict
from station.core.material import Material, Mold
from station.errors import Refused
from station.insight.facts import CastFacts
from station.insight.limits import CHANCE, Edge, limit
from station.texts import number, t

if TYPE_CHECKING:
    from station.insight.shot_mass import ShotAdvice

DECIMALS = {"g": ".1f", "s": ".0f", "h": ".1f", "": ".3f"}
KINDS = {
    Edge.SHORT_SHOTS: AdviceKind.PACKING_LOW,
    Edge.FLASH: AdviceKind.PACKING_HIGH,
    Edge.POUR: AdviceKind.POUR_BY,
    Edge.MIX: AdviceKind.MIX_TIME,
    Edge.CURE: AdviceKind.CURE,
}


@dataclass(frozen=True, slots=True)
class Advice:
    """`value` in the unit of its kind, with its interval (None: no end there), the rule behind it, and what to mind."""

    kind: AdviceKind
    value: float
    low: float | None
    high: float | None
    from_casts: tuple[int, ...]
    rule: str
    cautions: tuple[str, ...]

    def said(self) -> str:
        """The value with its unit and interval."""
        return f"{figure(self.kind, self.value)} ({interval(self.kind, self.low, self.high)})"


@dataclass(frozen=True, slots=True)
class NoAdvice:
    """Why nothing can be advised yet, and what would change that."""

    kind: AdviceKind
    why: str


def figure(kind: AdviceKind, value: float) -> str:
    """A value of this kind with its unit."""
    return f"{number(value, DECIMALS[kind.unit])} {kind.unit}".strip()


def interval(kind: AdviceKind, low: float | None, high: float | None) -> str:
    """The interval in words."""
    if low is None or high is None:
        if low is None and high is None:
            return t("how sure that is cannot be told")
        return (
            t("19 times in 20 above {low}", low=figure(kind, low))
            if low is not None
            else t("19 times in 20 below {high}", high=figure(kind, high or 0.0))
        )
    return t("19 times in 20 between {low} and {high}", low=figure(kind, low), high=figure(kind, high))


@dataclass(frozen=True, slots=True)
class Wanted:
    """The density to aim at, in g/cm³, and where it comes from in words."""

    density: float
    source: str


def wanted_density(casts: Sequence[CastFacts], material: Material, mold: Mold) -> Wanted | None:
    """The density that the mold's sheet asks for, else the mean of the good parts; None without either."""
    risen = free_rise(material)
    if mold.packing is not None and risen is not None:
        words = t(
            "{risen} kg/m³ free rise × packing factor {packing} of the mold's sheet",
            risen=number(1000 * risen, ".1f"),
            packing=number(mold.packing),
        )
        return Wanted(mold.packing * risen, words)
    good = [cast.density_g_cm3 for cast in casts if cast.verdict is Verdict.GOOD and cast.density_g_cm3]
    if not good:
        return None
    return Wanted(fmean(good), t("mean of {n} good parts", n=len(good)))


def advised(
    casts: Sequence[CastFacts],
    material: Material,
    mold: Mold,
    *,
    celsius: float | None,
    density: float | None = None,
) -> tuple[Advice | NoAdvice, ...]:
    """All advice for a material in a mold. `casts` are all that are known; `density` (g/cm³) is what is wanted."""
    here = [cast for cast in casts if cast.material == material.key]
    return (
        _shot([cast for cast in here if cast.mold == mold.key], material, mold, celsius, density),
        *(_edge(here, edge, material) for edge in Edge),
    )


def _shot(
    casts: Sequence[CastFacts], material: Material, mold: Mold, celsius: float | None, density: float | None
) -> Advice | NoAdvice:
    from station.insight.shot_mass import Shot, shot_for_density

    wanted = Wanted(density, t("as typed")) if density else wanted_density(casts, material, mold)
    if wanted is None:
        return NoAdvice(AdviceKind.MIX, t("No density is wanted: type one, or judge and weigh a good part first."))
    try:
        told = shot_for_density(casts, wanted.density, celsius)
    except Refused as why:
        return NoAdvice(AdviceKind.MIX, why.sentence())
    kind = AdviceKind.SHOT if told.shot is Shot.IN_MOLD else AdviceKind.MIX
    rule = t(
        "For {density} kg/m³ ({source}), by “{law}” through {n} full parts; the next part will come out between {low} "
        "and {high} kg/m³ (19 in 20).",
        density=number(1000 * told.density, ".1f"),
        source=wanted.source,
        law=t(told.law.value),
        n=len(told.casts),
        low=number(1000 * told.next_low, ".1f"),
        high=number(1000 * told.next_high, ".1f"),
    )
    return Advice(kind, told.shot_g, told.low_g, told.high_g, told.casts, rule, _shot_cautions(told, mold))


def _shot_cautions(told: ShotAdvice, mold: Mold) -> tuple[str, ...]:
    said = []
    if told.celsius is not None:
        said.append(t("It holds for {celsius} °C, the temperature now.", celsius=number(told.celsius, ".1f")))
    if told.outside:
        said.append(
            t(
                "No cast so far had such a shot (they had {low} to {high} g): go there in small steps.",
                low=number(told.seen_low, ".1f"),
                high=number(told.seen_high, ".1f"),
            )
        )
    if mold.closes and told.shot_g > told.seen_high:
        said.append(t("More foam presses harder: vents open, clamped, and nobody leans over the mold."))
    return tuple(said)


def _edge(casts: Sequence[CastFacts], edge: Edge, material: Material) -> Advice | NoAdvice:
    kind = KINDS[edge]
    try:
        found = limit(casts, edge)
    except Refused as why:
        return NoAdvice(kind, why.sentence())
    value = found.at
    if value <= 0:
        return NoAdvice(kind, t("The casts tell that there is a limit, but not yet where it lies."))
    if beyond := _beyond_sheet(kind, value, material):
        return NoAdvice(kind, beyond)
    rule = t(
        "Where {percent} % of the casts fail, by a penalised logistic curve through {n} casts, {failed} of which "
        "failed ({p}).",
        percent=number(100 * CHANCE),
        n=len(found.casts),
        failed=found.failed,
        p=p_words(found.p),
    )
    return Advice(kind, value, found.low, found.high, found.casts, rule, _edge_cautions(kind))


def _beyond_sheet(kind: AdviceKind, value: float, material: Material) -> str:
    """Why a limit is of no use beside the sheet's own; empty when it is."""
    times = material.times
    if kind is AdviceKind.POUR_BY and value >= times.pot_life_s:
        return t("The casts keep to the pot life of the sheet, {limit} s.", limit=number(times.pot_life_s))
    if kind is AdviceKind.POUR_BY and value < times.mix_s + times.pour_reserve_s:
        return t(
            "The limit would lie at {value} s, less than the sheet's mixing and pouring: look for another reason.",
            value=number(value, ".0f"),
        )
    if kind is AdviceKind.MIX_TIME and value <= times.mix_s:
        return t("The mix time of the sheet, {limit} s, is enough.", limit=number(times.mix_s))
    if kind is AdviceKind.CURE and value * 3600 <= times.demold_s:
        return t("The demold time of the sheet, {limit} h, is enough.", limit=number(times.demold_s / 3600, ".1f"))
    if kind is AdviceKind.MIX_TIME and value > times.pot_life_s - times.pour_reserve_s:
        return t(
            "The limit would lie at {value} s, later than the pour by the sheet: look for another reason.",
            value=number(value, ".0f"),
        )
    return ""


def _edge_cautions(kind: AdviceKind) -> tuple[str, ...]:
    said = [_seen_not_tried()]
    if kind is AdviceKind.CURE:
        said.append(
            t("Hours by the clock, at the temperatures of those casts: where it is colder, leave it in longer.")
        )
    return tuple(said)


def _seen_not_tried() -> str:
    return t("Seen side by side, not tried: what else changed with it may be the reason. A trial would tell.")


def said_p(p: float) -> str:
    """p as it is read: two digits, never nought."""
    return "< " + number(0.001) if p < 0.001 else number(p, ".2g")


def p_words(p: float) -> str:
    """The same with its letter, on one line: p = 0.02, p < 0.001."""
    return (f"p {said_p(p)}" if p < 0.001 else f"p = {said_p(p)}").replace(" ", "\u00a0")
