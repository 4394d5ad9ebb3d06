"""What the page says of the checks of the scale so far: the newest one, when the next is due, how its figures went."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from station.phone.scale_desk import CheckView
from station.phone.scale_trend import Trend, grams_text, trend
from station.texts import N_, number, t, tn

NOT_TESTED = N_("not tested")


@dataclass(frozen=True, slots=True)
class Row:
    """One check in words."""

    on: str
    verdict: str
    repeatability: str
    error: str
    drift: str
    temperature: str
    due: str
    scale: str


@dataclass(frozen=True, slots=True)
class History:
    """All checks, the newest first. `due` says when the next one is or was due."""

    newest: CheckView
    due: str
    overdue: bool
    trends: tuple[Trend, ...]
    rows: tuple[Row, ...]


def history(checks: Sequence[CheckView], today: date | None) -> History | None:
    """The history on `today`, None while the clock cannot be trusted; None when there was no check yet.

    The drawings hold only the checks of the scale that was checked last: another scale's figures are no trend of it.
    """
    if not checks:
        return None
    newest = checks[0]
    of_one = sorted((check for check in reversed(checks) if check.scale == newest.scale), key=lambda check: check.on)
    drawn = (
        trend(t("Repeatability"), [(check.on, check.repeatability_g) for check in of_one]),
        trend(t("Error at the check weight"), [(check.on, check.error_g) for check in of_one], signed=True),
    )
    overdue = today is not None and today > newest.due
    return History(
        newest,
        _due(newest.due, today),
        overdue,
        tuple(one for one in drawn if one is not None),
        tuple(_row(check) for check in checks),
    )


def _due(due: date, today: date | None) -> str:
    day = due.isoformat()
    if today is None:
        return t("The next check is due by {day}. The station's clock is not set, so compare with a calendar.", day=day)
    late = (today - due).days
    if late <= 0:
        return (
            t("The next check is due by {day}.", day=day)
            if late
            else t("The next check is due by {day}, today.", day=day)
        )
    return tn(
        "Overdue by {n} day: the next check was due by {day}. Check the scale before you rely on it again.",
        "Overdue by {n} days: the next check was due by {day}. Check the scale before you rely on it again.",
        late,
        day=day,
    )


def _row(check: CheckView) -> Row:
    warmth, drift = check.temperature_c, check.drift_g_per_h
    return Row(
        on=check.on.isoformat(),
        verdict=check.verdict,
        repeatability=grams_text(check.repeatability_g),
        error=_grams(check.error_g),
        drift=t(NOT_TESTED) if drift is None else f"{grams_text(drift, signed=True)}/h",
        temperature=t("not measured")
        if warmth is None
        else f"{number(warmth, '.1f')} °C".replace("-", "\N{MINUS SIGN}"),
        due=check.due.isoformat(),
        scale=check.scale,
    )


def _grams(grams: float | None) -> str:
    return t(NOT_TESTED) if grams is None else grams_text(grams, signed=True)
