"""Readability as the display shows it: decimals and smallest step found from a series of displayed values."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from itertools import pairwise

from station.errors import Refused
from station.metrology.given import finite
from station.texts import t, tn

DIFFERENT = 8
"""Different values needed: eight that all happen to be even on a display that counts by one are 1 chance in 256."""


class TooFewValues(Refused):
    """The display showed too few different values to tell its step."""


@dataclass(frozen=True, slots=True)
class Readability:
    """How a display counts: digits after the point, its step d in the displayed unit, values it was seen from."""

    decimals: int
    step: Decimal
    different: int


def measured_readability(shown: Sequence[str | Decimal]) -> Readability:
    """Readability from displayed values: the largest step 1, 2 or 5 x 10^k of which all are multiples.

    Watch the display while the load changes by hand, so that the last digits differ. Displays that change their
    step with the load are found with their finest step. Raises Refused for text that is not a number, and
    TooFewValues when 1 cannot be told from 2 or 5.
    """
    values = [_number(text) for text in shown]
    decimals = max((max(-_exponent(value), 0) for value in values), default=0)
    counts = {abs(int(value.scaleb(decimals))) for value in values} - {0}
    if len(counts) < DIFFERENT:
        raise TooFewValues(
            tn(
                "{n} different value was seen; {needed} are needed to tell the display's step.",
                "{n} different values were seen; {needed} are needed to tell the display's step.",
                len(counts),
                needed=DIFFERENT,
            ),
            t("Press lightly on the pan, or drip onto it, so that the last digit moves."),
        )
    return Readability(decimals, Decimal(_one_two_five(math.gcd(*counts))).scaleb(-decimals), len(counts))


def update_rate_hz(times_s: Sequence[float]) -> float:
    """How many readings a second arrive, from their times in seconds: gaps over the whole span.

    Raises Refused for fewer than three readings, or times that do not run forward.
    """
    if len(times_s) < 3:
        raise Refused(
            tn("{n} reading does not show a rate.", "{n} readings do not show a rate.", len(times_s)),
            t("Let the scale send for a few seconds."),
        )
    for time_s in times_s:
        finite(t("time of a reading"), time_s)
    span_s = times_s[-1] - times_s[0]
    if span_s <= 0 or any(later < earlier for earlier, later in pairwise(times_s)):
        raise Refused(
            t("The times of the readings do not run forward."), t("Record them again in the order they came.")
        )
    return (len(times_s) - 1) / span_s


def _number(text: str | Decimal) -> Decimal:
    try:
        value = Decimal(text)
    except InvalidOperation:
        raise Refused(
            t("{typed} is not a displayed number.", typed=repr(text)), t("Give the digits alone, without the unit.")
        ) from None
    if not value.is_finite() or abs(_exponent(value)) > 9 or value.adjusted() > 12:
        raise Refused(
            t("{typed} is not a displayed number.", typed=repr(text)), t("Leave out overload and blank displays.")
        )
    return value


def _exponent(value: Decimal) -> int:
    exponent = value.as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


def _one_two_five(common: int) -> int:
    """The largest 1, 2 or 5 x 10^k that divides `common`."""
    power = 1
    while common % (10 * power) == 0:
        power *= 10
    return next(step * power for step in (5, 2, 1) if common % (step * power) == 0)
