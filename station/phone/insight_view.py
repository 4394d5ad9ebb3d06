"""The page of insight in words, tables and drawings: one figure cast after cast, yields and defects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from station.drawing.marks import Drawing
from station.drawing.series import Series, Shape, series_chart
from station.drawing.shares import CountRow, ShareRow, count_chart, share_chart
from station.insight.charted import FIGURES
from station.insight.facts import CastFacts
from station.insight.individuals import Individuals, Rule
from station.insight.pareto import DefectCount, pareto
from station.insight.study import Study
from station.insight.words import capability_words, chart_words, figure_text, share_words
from station.insight.yields import By, Yield, in_all, yields
from station.phone.words import day_text
from station.texts import t, tn

_SHAPES = {Rule.BEYOND: Shape.LARGE, Rule.RUN: Shape.SQUARE}


@dataclass(frozen=True, slots=True)
class CastRow:
    """A cast in the table beside the charts."""

    number: int
    day: str
    value: str
    range: str
    smoothed: str
    mark: str


@dataclass(frozen=True, slots=True)
class Group:
    """Yields by one thing: the drawing, and its rows as a table of name, good, and good or usable."""

    title: str
    drawing: Drawing
    rows: tuple[tuple[str, str, str], ...]
    few: bool


@dataclass(frozen=True, slots=True)
class InsightView:
    """All that the page shows. `charts` with a caption each; `rows` say the same as a table."""

    title: str
    said: tuple[str, ...]
    fits: tuple[str, ...]
    charts: tuple[tuple[Drawing, str], ...]
    rows: tuple[CastRow, ...]
    judged: str
    groups: tuple[Group, ...]
    defects: Drawing | None
    defect_rows: tuple[tuple[str, str, str, str], ...]


def insight_view(facts: Sequence[CastFacts], study: Study) -> InsightView:
    """What is said of these casts."""
    together = in_all(facts)
    wrong = pareto(facts)
    return InsightView(
        title=t(study.charted.value),
        said=tuple(chart_words(study)),
        fits=tuple(capability_words(study.capability, study)),
        charts=tuple(_charts(study)),
        rows=tuple(_rows(study)) if study.comparable else (),
        judged=_judged(facts, together),
        groups=tuple(_groups(facts)),
        defects=_defects(wrong) if wrong else None,
        defect_rows=tuple(
            (t(one.kind.value), share_words(one.casts), str(one.spoilt), f"{one.up_to_here * 100:.0f} %")
            for one in wrong
        ),
    )


def _charts(study: Study) -> Iterator[tuple[Drawing, str]]:
    if not study.comparable or not study.values:
        return
    numbers, unit = [cast.number for cast in study.casts], FIGURES[study.charted].unit
    title, across = t(study.charted.value), t("cast")
    spoken = t("{title} of casts {first} to {last}. The table below says the same.", title=title, **_ends(numbers))
    allowed = (study.limits.low, study.limits.high)
    chart = study.chart
    if chart is None:
        yield series_chart(Series(title, spoken, unit, across, numbers, study.values, allowed=allowed)), ""
        return
    limits, count = chart.limits, len(numbers)
    yield (
        series_chart(
            Series(
                title,
                spoken,
                unit,
                across,
                numbers,
                study.values,
                limits.middle,
                [limits.low] * count,
                [limits.high] * count,
                allowed,
                {place: _SHAPES[rule] for place, rule in chart.marks},
            )
        ),
        _key(study),
    )
    yield _ranges(study, chart, numbers)
    if study.smooth is not None:
        smooth, name = study.smooth, t("{title}, smoothed", title=title)
        spoken = t("{title} of casts {first} to {last}. The table below says the same.", title=name, **_ends(numbers))
        low, high = ([ends[at] for ends in smooth.limits] for at in (0, 1))
        marked = dict.fromkeys(smooth.beyond, Shape.SQUARE)
        yield (
            series_chart(
                Series(name, spoken, unit, across, numbers, smooth.values, limits.middle, low, high, marked=marked)
            ),
            t("Each cast counts 0.3, all before it 0.7: a slow drift shows here first. Dashed: its limits."),
        )


def _ranges(study: Study, chart: Individuals, numbers: Sequence[int]) -> tuple[Drawing, str]:
    name, unit = t("change from cast to cast"), FIGURES[study.charted].unit
    later = numbers[1:]
    spoken = t("{title} of casts {first} to {last}. The table below says the same.", title=name, **_ends(later))
    high = [chart.limits.range_high] * len(later)
    drawing = series_chart(
        Series(name, spoken, unit, t("cast"), later, chart.ranges, chart.limits.range_mean, high=high, from_zero=True)
    )
    return drawing, t(
        "Dashed: what a change rarely exceeds. Changes beyond it are not marked: chance brings them too often."
    )


def _key(study: Study) -> str:
    words = t(
        "Dashed: three standard deviations from the middle. Large dot: beyond. Square: part of a row on one side."
    )
    shaded = t("Shaded: what you allow.")
    return f"{words} {shaded}" if study.limits.any else words


def _ends(numbers: Sequence[int]) -> dict[str, object]:
    return {"first": numbers[0], "last": numbers[-1]}


def _rows(study: Study) -> Iterator[CastRow]:
    marks = {} if study.chart is None else dict(study.chart.marks)
    for place, (cast, value) in enumerate(zip(study.casts, study.values, strict=True)):
        change = study.chart.ranges[place - 1] if study.chart is not None and place else None
        smooth = study.smooth.values[place] if study.smooth is not None else None
        yield CastRow(
            cast.number,
            day_text(cast.begun)[:10],
            figure_text(value, study.charted, unit=False),
            "" if change is None else figure_text(change, study.charted, unit=False),
            "" if smooth is None else figure_text(smooth, study.charted, unit=False),
            t(marks[place].value) if place in marks else "",
        )


def _judged(facts: Sequence[CastFacts], together: Yield | None) -> str:
    if together is None:
        return tn("No verdict yet on this {n} cast.", "No verdict yet on these {n} casts.", len(facts)) if facts else ""
    words = t("Good: {good}. Good or usable: {fit}.", good=share_words(together.good), fit=share_words(together.fit))
    waiting = together.casts - together.good.of
    more = tn("{n} cast has no verdict yet.", "{n} casts have no verdict yet.", waiting) if waiting else ""
    return f"{words} {more}".strip()


def _groups(facts: Sequence[CastFacts]) -> Iterator[Group]:
    for by in By:
        found = yields(facts, by)
        if len(found) < 2:
            continue
        title = t("Good casts by {what}", what=t(by.value))
        rows = [
            ShareRow(
                one.name,
                t("{count} of {of}", count=one.good.count, of=one.good.of),
                one.good.share,
                one.good.within.low,
                one.good.within.high,
            )
            for one in found
        ]
        spoken = t("{title}, each with its 95 % interval. The table below says the same.", title=title)
        told = tuple((one.name, share_words(one.good), share_words(one.fit)) for one in found)
        yield Group(title, share_chart(title, spoken, rows), told, any(one.few for one in found))


def _defects(wrong: Sequence[DefectCount]) -> Drawing:
    title = t("Defects by how often they came")
    rows = [
        CountRow(
            t(one.kind.value),
            t("{count} of {of}", count=one.casts.count, of=one.casts.of),
            one.casts.count,
        )
        for one in wrong
    ]
    return count_chart(title, t("{title}. The table below says the same.", title=title), rows)
