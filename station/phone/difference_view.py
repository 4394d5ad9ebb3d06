"""A look at the casts as its page shows it: sentence, picture, table, and the trial that would tell more."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from station.drawing.marks import Drawing
from station.drawing.plot import Axis
from station.drawing.two_rows import Row, two_rows
from station.insight.difference import Difference, Look
from station.insight.said import counts, next_trial, sureness, verdict
from station.insight.said import size as size_words
from station.texts import number, t

Cells = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LookView:
    """One look. `rows`: side, bad, of, share with its interval. `trial`: an address that fills in the form of one."""

    title: str
    found: str
    sureness: str
    size: str
    verdict: str
    claimed: bool
    drawing: Drawing | None
    slope: str
    rows: tuple[Cells, ...]
    trial_words: str
    trial: str


def look_view(look: Look, found: Difference) -> LookView:
    """The look in words and as a picture."""
    what = found.question.words
    trial = next_trial(look)
    return LookView(
        title=look.title[:1].upper() + look.title[1:],
        found=counts(look, what) + ".",
        sureness=sureness(look, len(found.looks)) + ".",
        size=size_words(look) and size_words(look) + ".",
        verdict=verdict(look),
        claimed=look.claimed,
        drawing=_drawing(look, what),
        slope=_slope(look),
        rows=tuple(_row(one.words, one.share.bad, one.share.of, one.share.interval()) for one in look.sides),
        trial_words="" if trial is None else trial.words(),
        trial=""
        if trial is None
        else "/insight/trials?"
        + urlencode(
            {
                "title": t("Does it matter: {factor}?", factor=t(trial.factor.title)),
                "name1": t(trial.factor.title),
                "levels1": f"{trial.factor.said(trial.low)}; {trial.factor.said(trial.high)}",
                "blocks": str(trial.each or 4),
            }
        ),
    )


def _row(words: str, bad: int, of: int, within: tuple[float, float]) -> Cells:
    low, high = within
    share = t(
        "{share} % ({low} to {high})",
        share=number(100 * bad / of, ".0f"),
        low=number(100 * low, ".0f"),
        high=number(100 * high, ".0f"),
    )
    return words, str(bad), str(of), share


def _drawing(look: Look, what: str) -> Drawing | None:
    if look.factor is None or look.cut is None:
        return None
    values = [value for value, _ in look.dots]
    margin = (max(values) - min(values)) * 0.04 or 1.0
    unit = t(look.factor.unit)
    axis = Axis(f"{look.title} {unit}".strip(), min(values) - margin, max(values) + margin)
    rows = (
        Row(what, tuple(value for value, bad in look.dots if bad)),
        Row(t("all others"), tuple(value for value, bad in look.dots if not bad)),
    )
    return two_rows(look.title, counts(look, what), axis, rows, look.cut.at)


def _slope(look: Look) -> str:
    if look.slope is None or look.factor is None:
        return ""
    return t(
        "Over the whole range, per {unit}: log odds {slope} ({low} to {high}; penalised logistic fit).",
        unit=t(look.factor.unit) or t("unit"),
        slope=number(look.slope.per_unit, "+.3g"),
        low=number(look.slope.low, "+.3g"),
        high=number(look.slope.high, "+.3g"),
    )
