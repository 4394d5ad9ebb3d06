"""What a look at the casts found, as sentences; and the trial that would tell more. Never a word of cause."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from station.insight.advice import p_words, said_p
from station.insight.difference import Difference, Look, Sort
from station.insight.factors import Factor
from station.insight.shares import apart
from station.insight.trials.power import WANTED, power_of_shares
from station.texts import number, t, tn

MOST_EACH = 16


def counts(look: Look, what: str) -> str:
    """How many of the casts on each side were bad: the finding itself."""
    sides = look.sides
    if look.sort is not Sort.GROUPS:
        one, other = sides
        return t(
            "{what}: {bad} of {of} casts {side}, {bad2} of {of2} {side2}",
            what=what,
            bad=one.share.bad,
            of=one.share.of,
            side=one.words,
            bad2=other.share.bad,
            of2=other.share.of,
            side2=other.words,
        )
    most = sorted(sides, key=lambda side: side.share.part, reverse=True)
    shown = [t("{bad} of {of} {side}", bad=s.share.bad, of=s.share.of, side=s.words) for s in most[:4]]
    more = [tn("and {n} more", "and {n} more", len(most) - 4)] if len(most) > 4 else []
    return t("{what}: {shares}", what=what, shares=", ".join([*shown, *more]))


def sureness(look: Look, looks: int) -> str:
    """p, with what was paid for."""
    by = {
        Sort.CUT: t("with the choice of the cut paid for"),
        Sort.TWO: t("by Fisher's exact test"),
        Sort.GROUPS: t("with the choice of the worst or best paid for"),
    }[look.sort]
    return tn(
        "{p} {by}; {corrected} for {n} look (Holm)",
        "{p} {by}; {corrected} for all {n} looks (Holm)",
        looks,
        p=p_words(look.p),
        by=by,
        corrected=said_p(look.corrected),
    )


def size(look: Look) -> str:
    """How large the difference is, with its interval; empty for more than two sides."""
    if look.sort is Sort.GROUPS:
        return ""
    by, low, high = apart(look.sides[0].share, look.sides[1].share)
    words = t(
        "{by} percentage points between the two, 19 times in 20 {low} to {high}",
        by=number(100 * by, "+.0f"),
        low=number(100 * low, "+.0f"),
        high=number(100 * high, "+.0f"),
    )
    chosen = t("; too large rather than too small, since the cut was chosen") if look.sort is Sort.CUT else ""
    return words + chosen


def verdict(look: Look) -> str:
    """What may be thought of it."""
    if look.claimed:
        return t("More than chance would show in all these looks. They went together; why, only a trial can tell.")
    return t("Chance alone may have done this.")


def sentence(look: Look, found: Difference) -> str:
    """The finding in a sentence, with its p."""
    return f"{counts(look, found.question.words)}; {sureness(look, len(found.looks))}."


@dataclass(frozen=True, slots=True)
class NextTrial:
    """A trial that would tell whether the factor matters: two settings, and casts of each for an even chance of 4 in 5
    to notice shares as far apart as they were seen; None when more than `MOST_EACH`."""

    factor: Factor
    low: float
    high: float
    each: int | None

    def words(self) -> str:
        """The proposal as a sentence or two."""
        said = t(
            "To find out: a trial of {factor}, {low} against {high}, all else alike, the order dealt out by lot.",
            factor=t(self.factor.title),
            low=self.factor.said(self.low),
            high=self.factor.said(self.high),
        )
        if self.each is None:
            many = t("If the difference is as seen, that takes more than {most} casts of each.", most=MOST_EACH)
            return f"{said} {many}"
        return (
            said
            + " "
            + tn(
                "At least {n} cast of each, if the difference is as large as seen.",
                "At least {n} casts of each, if the difference is as large as seen.",
                self.each,
            )
        )


def next_trial(look: Look) -> NextTrial | None:
    """The trial that this look asks for; None where nobody can set what was looked at."""
    if look.factor is None or look.cut is None or not look.factor.ours:
        return None
    under = median([value for value, _ in look.dots if value <= look.cut.below])
    over = median([value for value, _ in look.dots if value >= look.cut.above])
    one, other = look.cut.under.part, look.cut.over.part
    each = next((n for n in range(2, MOST_EACH + 1) if power_of_shares(one, other, n) >= WANTED), None)
    return NextTrial(look.factor, under, over, each)
