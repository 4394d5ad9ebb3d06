"""The column as plain values: what is in the cup, what is still to pour, and where to draw it."""

from __future__ import annotations

from station.core.lead import Lead
from station.core.mass import Mass
from station.core.snapshot import ColumnView, Fill
from station.phone import draw
from station.phone.wire_values import Json, mass
from station.phone.words import mass_text
from station.texts import t

LONG = 5
"""A large number of more characters is drawn smaller, so that it stays on a phone."""


def column(view: ColumnView, step: Mass, live: bool) -> Json:
    """A weighing. `left` is the large number in grams, `left_words` what it counts; empty when net is not known.

    `live` is False when the scale's number is old: then the page draws the weighing as not to be relied on.
    """
    net = view.net
    level = 0.0 if net is None else draw.column_height(net, view.low, view.high)
    target = draw.column_height(view.target, view.low, view.high)
    left, left_words = _left(view, step)
    return {
        "ingredient": view.ingredient,
        "cup": view.cup,
        "target": mass(view.target, step),
        "low": mass(view.low, step),
        "high": mass(view.high, step),
        "net": None if net is None else mass(net, step),
        "net_text": "" if net is None else mass_text(net, step),
        "left": left,
        "left_unit": "g" if left else "",
        "left_size": "long" if len(left) > LONG else "",
        "known": net is not None,
        "grey": not live,
        "near": mass(draw.stretched_from(view.low), step),
        "left_words": left_words,
        "fill": {"name": view.fill.name if net is not None else "UNKNOWN", "words": t(view.fill.value)},
        "lead": _lead(view),
        "settling": view.settling,
        "rule": view.rule,
        "draw": {
            "level": f"{level:.2f}",
            "top": draw.percent(100 - level),
            "height": draw.percent(level),
            "target": draw.percent(100 - target),
        },
        "spoken": _spoken(view, step),
    }


def _lead(view: ColumnView) -> Json:
    """What a led pour asks of the hand: in a word, and as a bar that fills the slower the stream shall be."""
    if view.lead is None:
        return {"name": "", "words": "", "share": "0%", "pace": None}
    share = 1.0 if view.lead is Lead.STOP else view.pace or 0.0
    return {"name": view.lead.name, "words": t(view.lead.value), "share": draw.percent(100 * share), "pace": view.pace}


def _left(view: ColumnView, step: Mass) -> tuple[str, str]:
    if view.net is None:
        return "", ""
    match view.fill:
        case Fill.UNDER | Fill.NEAR:
            return _bare(view.target - view.net, step), t("still to pour")
        case Fill.IN_BAND:
            away = view.net - view.target
            sign = "+" if away.mg > 0 else ""
            return f"{sign}{_bare(away, step)}", t("off target, in the band")
        case Fill.OVER:
            return _bare(view.net - view.target, step), t("too much")


def _spoken(view: ColumnView, step: Mass) -> str:
    """The drawing in one sentence, for those who do not see it."""
    if view.net is None:
        return t("{ingredient}: the weight is not known now.", ingredient=view.ingredient)
    return t(
        "{ingredient}: {net} of {target}, {fill}.",
        ingredient=view.ingredient,
        net=mass_text(view.net, step),
        target=mass_text(view.target, step),
        fill=t(view.fill.value),
    )


def _bare(value: Mass, step: Mass) -> str:
    return mass_text(value, step).removesuffix(" g")
