"""What a study says, in sentences: each with its interval, few called few, and no word of what caused what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from station.insight.capability import Capability
from station.insight.charted import FIGURES, Charted
from station.insight.individuals import FEW, FEWEST, Individuals, Rule
from station.insight.proportions import Proportion
from station.insight.study import Study
from station.texts import number, t, tn

MINUS = "\N{MINUS SIGN}"


def figure_text(value: float, charted: Charted, *, unit: bool = True) -> str:
    """A figure as it is read, with its unit unless that stands elsewhere."""
    shown = FIGURES[charted]
    said = signed(value, f".{shown.places}f")
    return f"{said} {shown.unit}" if unit else said


def signed(value: float, how: str) -> str:
    """A number with a real minus sign, and none before a zero."""
    said = number(value, how)
    return said.lstrip("-") if not said.strip("-0.,") else said.replace("-", MINUS)


def chart_words(study: Study) -> Iterator[str]:
    """What the chart says, the most important first."""
    if not study.comparable:
        yield t(study.needs)
        return
    if study.chart is None:
        yield tn(
            "{n} cast has this figure. Limits take {fewest}.",
            "{n} casts have this figure. Limits take {fewest}.",
            len(study.values),
            fewest=FEWEST,
        )
        return
    yield from _marks(study, study.chart)
    yield from _middle(study, study.chart)
    yield from _doubts(study, study.chart)
    if study.without:
        yield tn("{n} cast is left out: it lacks this figure.", "{n} casts are left out: they lack it.", study.without)


def _middle(study: Study, chart: Individuals) -> Iterator[str]:
    assert study.spread is not None
    limits, (low, high) = chart.limits, study.spread.mean_within
    yield t(
        "Middle {middle} (with 95 % confidence {low} to {high}). Single casts are expected from {least} to {most}.",
        middle=figure_text(limits.middle, study.charted),
        low=figure_text(low, study.charted, unit=False),
        high=figure_text(high, study.charted),
        least=figure_text(limits.low, study.charted, unit=False),
        most=figure_text(limits.high, study.charted),
    )


def _marks(study: Study, chart: Individuals) -> Iterator[str]:
    beyond = [study.casts[place].number for place, rule in chart.marks if rule is Rule.BEYOND]
    run = [study.casts[place].number for place, rule in chart.marks if rule is Rule.RUN]
    smooth = [study.casts[place].number for place in (study.smooth.beyond if study.smooth else ())]
    if beyond:
        yield tn("Beyond a limit: cast {casts}.", "Beyond a limit: casts {casts}.", len(beyond), casts=listed(beyond))
    if run:
        yield t("Nine or more in a row on one side of the middle: casts {casts}.", casts=listed(run))
    if smooth:
        yield tn(
            "The smoothed figure leaves its limits: cast {casts}.",
            "The smoothed figure leaves its limits: casts {casts}.",
            len(smooth),
            casts=listed(smooth),
        )
    if not (beyond or run or smooth):
        yield tn("The cast is not marked.", "None of the {n} casts is marked.", len(study.values))
    elif beyond or run:
        yield t(
            "Look at what was different there before changing anything: of 30 casts that differ by chance alone, nine "
            "charts in a hundred have a mark, more where the figures lie lopsided."
        )


def _doubts(study: Study, chart: Individuals) -> Iterator[str]:
    assert study.spread is not None
    if chart.few:
        yield tn(
            "{n} cast is few: how far the limits lie apart is only known to ± {percent} %.",
            "{n} casts are few: how far the limits lie apart is only known to ± {percent} %.",
            len(study.values),
            percent=f"{1.96 * chart.limits.sigma_off * 100:.0f}",
        )
    if study.spread.neighbours_alike and len(study.values) >= FEW:
        yield t(
            "Casts that follow each other resemble each other (correlation {lag}). The limits are then too close or "
            "too far, and marks say less.",
            lag=signed(study.spread.lag1 or 0.0, ".2f"),
        )


def capability_words(found: Capability | None, study: Study) -> Iterator[str]:
    """How the figures fit between the limits that somebody set; nothing where none are set."""
    if not study.limits.any or not study.comparable:
        return
    if found is None:
        yield t("How well the figures keep to that takes {fewest} casts that differ.", fewest=FEWEST)
        return
    yield tn("{n} cast of {of} lies outside.", "{n} casts of {of} lie outside.", found.outside, of=found.n)
    if found.cp is not None and found.cp_within is not None:
        yield _index("Cp", found.cp, found.cp_within)
    yield _index("Cpk", found.cpk, found.cpk_within)
    if study.chart is not None and study.chart.marks:
        yield t("Casts are marked above: then these two say little of the casts to come.")


def _index(name: str, value: float, within: Sequence[float]) -> str:
    low, high = (signed(end, ".2f") for end in within)
    return t(
        "{name} = {value}, with 95 % confidence {low} to {high}.",
        name=name,
        value=signed(value, ".2f"),
        low=low,
        high=high,
    )


def share_words(share: Proportion) -> str:
    """A share with its interval."""
    return t(
        "{count} of {of}: {share} % (with 95 % confidence {low} to {high} %)",
        count=share.count,
        of=share.of,
        share=f"{share.share * 100:.0f}",
        low=f"{share.within.low * 100:.0f}",
        high=f"{share.within.high * 100:.0f}",
    )


def listed(numbers: Sequence[int]) -> str:
    """Numbers of casts in their order; of many only the ends, and how many they are."""
    if len(numbers) > 6:
        return t("{first} … {last} ({n} of them)", n=len(numbers), first=numbers[0], last=numbers[-1])
    return ", ".join(str(one) for one in numbers)
