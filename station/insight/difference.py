"""What went together with bad casts: each factor looked at by itself, corrected for how many looks there were.

Nothing here says what caused anything: casts were not dealt out to settings by lot, and what changes together cannot
be told apart. What it is good for is choosing the next trial.
numpy and scipy are loaded with the first question, so that a station that is not asked does without.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import TYPE_CHECKING

from station.errors import Refused
from station.insight.asked import Question
from station.insight.exact import fisher, holm
from station.insight.factors import FACTORS, PAUSE_DAYS, Factor, after_pause, fresh_lot, lots_of
from station.insight.facts import CastFacts
from station.insight.shares import Share
from station.texts import N_, number, t

if TYPE_CHECKING:
    from station.insight.cut import Cut
    from station.insight.firth import Slope

SAMPLED = 9_999
CLAIMED = 0.05
"""A difference is claimed when chance would show one so large, in any look, in at most 1 of 20 workshops."""
LEAST_CASTS, LEAST_KIND = 6, 2
CURVE_LEAST = 5
"""So many casts of each kind before a slope is fitted."""


class Sort(Enum):
    """How a factor was looked at."""

    CUT = "cut"
    TWO = "two"
    GROUPS = "groups"


@dataclass(frozen=True, slots=True)
class Side:
    """Some of the casts, in words that fit after "casts", and how many of them were bad."""

    words: str
    share: Share


@dataclass(frozen=True, slots=True)
class Look:
    """One factor held against good and bad. `p` is that of this look alone, `corrected` pays for all of them (Holm).

    `sides`: the two sides of the best cut, those with and without, or each lot. `dots`: a value and whether the cast
    was bad, for a picture. `slope`: penalised logistic fit, None where the data do not carry one.
    """

    key: str
    title: str
    sort: Sort
    p: float
    exact: bool
    sides: tuple[Side, ...]
    factor: Factor | None = None
    cut: Cut | None = None
    slope: Slope | None = None
    dots: tuple[tuple[float, bool], ...] = ()
    corrected: float = 1.0

    @property
    def claimed(self) -> bool:
        """Whether it is more than the looks would show by chance."""
        return self.corrected <= CLAIMED


@dataclass(frozen=True, slots=True)
class Difference:
    """All looks at a question, the surest first, over `casts` judged casts of which `bad` were bad.

    `unlooked`: titles of what could not be looked at, since too few casts have it or it never differed.
    """

    question: Question
    casts: int
    bad: int
    looks: tuple[Look, ...]
    unlooked: tuple[str, ...]

    @property
    def claims(self) -> tuple[Look, ...]:
        """The differences that are claimed."""
        return tuple(look for look in self.looks if look.claimed)


def differences(casts: Sequence[CastFacts], question: Question, sampled: int = SAMPLED) -> Difference:
    """Every factor held against good and bad. Raises Refused while too few casts are judged, or all came out alike."""
    answering = question.answering(casts)
    bad = sum(is_bad for _, is_bad in answering)
    if len(answering) < LEAST_CASTS or min(bad, len(answering) - bad) < LEAST_KIND:
        raise Refused(
            t(
                "{n} casts are judged, {bad} of them {what}: that is too few to compare.",
                n=len(answering),
                bad=bad,
                what=question.words,
            ),
            t(
                "It takes at least {casts} judged casts, {kind} of each kind.",
                casts=LEAST_CASTS,
                kind=LEAST_KIND,
            ),
        )
    tried = [
        *((one.title, _by_number(one, answering, sampled)) for one in FACTORS),
        *_two_sides(answering),
        _by_group("mold", t("mold"), [(one.mold_title, bad) for one, bad in answering], N_("from {name}"), sampled),
        _by_group("material", t("material"), [(one.material, bad) for one, bad in answering], N_("of {name}"), sampled),
        *_by_lots(answering, sampled),
    ]
    looks = [look for _, look in tried if look is not None]
    corrected = holm(tuple(look.p for look in looks))
    looks = [replace(look, corrected=p) for look, p in zip(looks, corrected, strict=True)]
    looks.sort(key=lambda look: (look.corrected, look.p))
    return Difference(question, len(answering), bad, tuple(looks), tuple(t(title) for title, look in tried if not look))


_Answering = Sequence[tuple[CastFacts, bool]]


def _by_number(factor: Factor, answering: _Answering, sampled: int) -> Look | None:
    from station.insight.cut import best_cut

    dots = tuple((value, bad) for cast, bad in answering if (value := factor.value(cast)) is not None)
    values, bads = [value for value, _ in dots], [bad for _, bad in dots]
    cut = best_cut(values, bads, sampled)
    if cut is None:
        return None
    at = factor.said(cut.above)
    sides = (Side(t(factor.under, at=at), cut.under), Side(t(factor.over, at=at), cut.over))
    slope = _slope(values, bads) if min(sum(bads), len(bads) - sum(bads)) >= CURVE_LEAST else None
    return Look(factor.key, t(factor.title), Sort.CUT, cut.p, cut.exact, sides, factor, cut, slope, dots)


def _slope(values: Sequence[float], bads: Sequence[bool]) -> Slope:
    from station.insight.firth import Curve

    return Curve(values, bads).slope()


def _two_sides(answering: _Answering) -> list[tuple[str, Look | None]]:
    fresh = fresh_lot([cast for cast, _ in answering])
    return [
        _two(
            "fresh_lot",
            t("change of lot"),
            [(fresh.get(cast.number), bad) for cast, bad in answering],
            (t("first from another lot"), t("from the same lots as the cast before")),
        ),
        _two(
            "after_pause",
            t("first after a pause"),
            [(after_pause(cast), bad) for cast, bad in answering],
            (t("first after {days} days or more", days=number(PAUSE_DAYS)), t("soon after another")),
        ),
    ]


def _two(
    key: str, title: str, marks: Sequence[tuple[bool | None, bool]], words: tuple[str, str]
) -> tuple[str, Look | None]:
    here = [bad for mark, bad in marks if mark is True]
    there = [bad for mark, bad in marks if mark is False]
    if min(len(here), len(there)) < 2 or len({*here, *there}) < 2:
        return title, None
    shares = Share(sum(here), len(here)), Share(sum(there), len(there))
    p = fisher(shares[0].bad, shares[0].of - shares[0].bad, shares[1].bad, shares[1].of - shares[1].bad)
    sides = tuple(Side(said, share) for said, share in zip(words, shares, strict=True))
    return title, Look(key, title, Sort.TWO, p, True, sides)


def _by_lots(answering: _Answering, sampled: int) -> list[tuple[str, Look | None]]:
    """One look for each component of each material that came from several lots."""
    named = sorted({(cast.material, name) for cast, _ in answering for name in lots_of(cast)})
    found: list[tuple[str, Look | None]] = []
    for material, name in named:
        of = [(lot, bad) for cast, bad in answering if cast.material == material and (lot := lots_of(cast).get(name))]
        title = t("lot of {component}", component=name)
        if len({key for key, _ in named}) > 1:
            title = t("lot of {component} of {material}", component=name, material=material)
        found.append(_by_group(f"lot {material} {name}", title, of, N_("from lot {name}"), sampled))
    return found


def _by_group(
    key: str, title: str, of: Sequence[tuple[str, bool]], words: str, sampled: int
) -> tuple[str, Look | None]:
    from station.insight.cut import groups_p

    names, bads = [name for name, _ in of], [bad for _, bad in of]
    tested = groups_p(names, bads, sampled)
    if tested is None:
        return title, None
    sides = tuple(
        Side(t(words, name=name), Share(sum(bad for one, bad in of if one == name), names.count(name)))
        for name in sorted(set(names))
    )
    return title, Look(key, title, Sort.GROUPS, tested[0], tested[1], sides)
