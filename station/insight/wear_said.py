"""The wear of a mold in sentences: each number with its interval, small called small, too few called too few."""

from __future__ import annotations

from dataclasses import dataclass

from station.insight.shares import Share
from station.insight.wear import LEAST, Drift, Halves, Sort, Trend, Wear
from station.texts import number, t, tn

SHOTS_TOLD = 10
"""A drift is told over so many shots."""


@dataclass(frozen=True, slots=True)
class TrendSaid:
    """One look as a row: what, over which shots, what was seen, and what it means."""

    what: str
    shots: str
    seen: str
    means: str


def summary(found: Wear) -> str:
    """The wear in a sentence or two, for the mold as a whole."""
    claimed = [trend for trend in found.trends if trend.claimed and not trend.small]
    worse = [trend for trend in claimed if trend.halves is not None and trend.halves.more > 0]
    if worse:
        what = ", ".join(t(trend.sort.value) for trend in worse)
        return t(
            "Over its shots these became more: {what}. Look at its edges, seams and vents before it is filled again.",
            what=what,
        )
    if any(trend.sort is Sort.MASS for trend in claimed):
        return t("The mass of its parts drifts. Measure the cavity again before you trust its volume.")
    if all(trend.halves is None and trend.drift is None for trend in found.trends):
        return tn(
            "Too little is known of its wear: {n} judged or weighed part of one kind is needed.",
            "Too little is known of its wear: {n} judged or weighed parts of one kind are needed.",
            LEAST,
        )
    return t("Nothing seen so far is more than chance would show. That is no proof that it does not wear.")


def said(found: Wear) -> tuple[TrendSaid, ...]:
    """Each look as a row."""
    return tuple(_said(trend, found) for trend in found.trends)


def _said(trend: Trend, found: Wear) -> TrendSaid:
    what = t(trend.sort.value)
    if trend.sort is Sort.MASS and found.material:
        trimmed = {True: t("trimmed"), False: t("as it came out"), None: t("trimmed or not is not known")}[
            found.trimmed
        ]
        what = t("{what} ({material}, {trimmed})", what=what, material=found.material, trimmed=trimmed)
    shots = t("{first} to {last}", first=trend.first, last=trend.last) if trend.n else ""
    if trend.halves is None and trend.drift is None:
        return TrendSaid(what, shots, tn("{n} shot is known", "{n} shots are known", trend.n), t("too few for a trend"))
    if trend.halves is not None:
        return TrendSaid(what, shots, _halves(trend.halves), _means(trend))
    assert trend.drift is not None
    return TrendSaid(what, shots, _drift(trend.drift, found.cavity_cm3), _means(trend))


def _halves(halves: Halves) -> str:
    return t(
        "{earlier} in the earlier half, {later} in the later: {more} percentage points ({low} to {high})",
        earlier=_of(halves.earlier),
        later=_of(halves.later),
        more=_signed(100 * halves.more, 0),
        low=_signed(100 * halves.within.low, 0),
        high=_signed(100 * halves.within.high, 0),
    )


def _of(share: Share) -> str:
    return t("{bad} of {of}", bad=share.bad, of=share.of)


def _drift(drift: Drift, cavity_cm3: float | None) -> str:
    by = SHOTS_TOLD * drift.per_shot
    told = t(
        "{by} g in {shots} shots ({low} to {high})",
        by=_signed(by, 2),
        shots=SHOTS_TOLD,
        low=_signed(SHOTS_TOLD * drift.within.low, 2),
        high=_signed(SHOTS_TOLD * drift.within.high, 2),
    )
    if cavity_cm3 is None:
        return told
    density = _signed(by / cavity_cm3, 4)
    return t(
        "{told}, in a cavity of {cavity} cm³ {density} g/cm³", told=told, cavity=number(cavity_cm3), density=density
    )


def _means(trend: Trend) -> str:
    if not trend.claimed:
        return t("no more than chance (p = {p})", p=number(trend.p, ".2f"))
    p = t("p below 0.001") if trend.p < 0.001 else t("p = {p}", p=number(trend.p, ".3f"))
    if trend.halves is not None:
        return t("they become more ({p})", p=p) if trend.halves.more > 0 else t("they become fewer ({p})", p=p)
    over_all = trend.over_all or 0.0
    percent = _signed(100 * over_all, 1)
    if trend.small:
        return t("a drift, and a small one: {percent} % over all its shots ({p})", percent=percent, p=p)
    return t("a drift: {percent} % over all its shots ({p})", percent=percent, p=p)


def _signed(value: float, digits: int) -> str:
    """With its sign, a real minus, and no negative zero."""
    return number(round(value, digits) + 0.0, f"+.{digits}f").replace("-", "\N{MINUS SIGN}")
