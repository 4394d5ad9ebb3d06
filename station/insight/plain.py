"""A study and what goes with it as plain values, for JSON: full precision, units in the names, null for unknown."""

from __future__ import annotations

from collections.abc import Sequence

from station.insight.charted import FIGURES
from station.insight.facts import CastFacts
from station.insight.pareto import DefectCount, pareto
from station.insight.proportions import Proportion
from station.insight.study import Study
from station.insight.yields import By, Yield, in_all, yields

Plain = dict[str, object]


def plain(facts: Sequence[CastFacts], study: Study) -> Plain:
    """All of it."""
    together = in_all(facts)
    return {
        "casts": len(facts),
        "figure": study.charted.name,
        "unit": FIGURES[study.charted].unit,
        "comparable": study.comparable,
        "values": _values(study),
        "mean": None if study.spread is None else study.spread.mean,
        "mean_within": None if study.spread is None else list(study.spread.mean_within),
        "lag1": None if study.spread is None else study.spread.lag1,
        "limits": None
        if study.chart is None
        else {
            "middle": study.chart.limits.middle,
            "low": study.chart.limits.low,
            "high": study.chart.limits.high,
            "range_mean": study.chart.limits.range_mean,
            "range_high": study.chart.limits.range_high,
            "sigma_relative_error": study.chart.limits.sigma_off,
        },
        "capability": _capability(study),
        "judged": None if together is None else _yield(together),
        "yields": {by.name: [_yield(one) for one in yields(facts, by)] for by in By},
        "defects": [_defect(one) for one in pareto(facts)],
    }


def _values(study: Study) -> list[Plain]:
    marks = {} if study.chart is None else dict(study.chart.marks)
    ranges = (None, *study.chart.ranges) if study.chart is not None else (None,) * len(study.values)
    smooth = study.smooth.values if study.smooth is not None else (None,) * len(study.values)
    return [
        {
            "number": cast.number,
            "value": value,
            "range": ranges[place],
            "smoothed": smooth[place],
            "mark": marks[place].name if place in marks else None,
        }
        for place, (cast, value) in enumerate(zip(study.casts, study.values, strict=True))
    ]


def _capability(study: Study) -> Plain | None:
    found = study.capability
    if found is None:
        return None
    return {
        "low": study.limits.low,
        "high": study.limits.high,
        "outside": found.outside,
        "cp": found.cp,
        "cp_within": None if found.cp_within is None else list(found.cp_within),
        "cpk": found.cpk,
        "cpk_within": list(found.cpk_within),
    }


def _share(share: Proportion) -> Plain:
    return {"count": share.count, "of": share.of, "share": share.share, "within": list(share.within)}


def _yield(one: Yield) -> Plain:
    return {"name": one.name, "casts": one.casts, "good": _share(one.good), "good_or_usable": _share(one.fit)}


def _defect(one: DefectCount) -> Plain:
    return {
        "kind": one.kind.name,
        "casts": _share(one.casts),
        "spoilt": one.spoilt,
        "up_to_here": one.up_to_here,
    }
