"""Review of a material sheet: what contradicts itself, what is not known, and what is worth a word."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from station.core.material import Material
from station.core.reviewing import foam, ratio, silent, times


@dataclass(frozen=True, slots=True)
class Review:
    """Sentences about one sheet. `contradictions` must be settled before casting; `unknown` only leave things out.

    `advice` is about what may be meant so.
    """

    contradictions: tuple[str, ...]
    unknown: tuple[str, ...]
    advice: tuple[str, ...] = ()


Rule = Callable[[Material], Iterator[str]]
_CONTRADICTIONS: tuple[Rule, ...] = (
    times.order,
    ratio.two_ratios,
    ratio.mix_density,
    ratio.equivalents,
    ratio.kits,
    foam.rise,
    foam.packing,
    foam.densities,
    foam.chemistry,
    times.temperatures,
    times.energies,
    times.masses,
)
_UNKNOWN: tuple[Rule, ...] = (silent.not_said,)
_ADVICE: tuple[Rule, ...] = (silent.little_time, silent.wide_tolerance, silent.no_cautions, ratio.kit_rests)


def review(material: Material) -> Review:
    """All that can be said against a sheet from the sheet alone."""
    return Review(_said(_CONTRADICTIONS, material), _said(_UNKNOWN, material), _said(_ADVICE, material))


def _said(rules: tuple[Rule, ...], material: Material) -> tuple[str, ...]:
    return tuple(said for rule in rules for said in rule(material))
