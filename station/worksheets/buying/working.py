"""How work is typed: a mold with its casts, working hours, days of the week, and the day on which it begins."""

from __future__ import annotations

import math
import re
from datetime import date

from station.casting.schedule import DAY_MIN, MOST_DAYS, Hours, MoldLoad
from station.errors import Refused
from station.quantities import NotAQuantity, seconds
from station.texts import N_, number, t

DAYS = (N_("Mo"), N_("Tu"), N_("We"), N_("Th"), N_("Fr"), N_("Sa"), N_("Su"))
"""What the days are called in a schedule; typed they may be in English or as they are said."""
_NAMED = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MOLD = (
    r"(?P<name>[^:]+):\s*(?P<casts>\d{{1,3}})\s*(?:×|x|casts?|{casts})?\s*"
    r",\s*(?P<handling>[^,]+(?:,\d[^,]*)?),\s*(?P<demold>[^,]+(?:,\d[^,]*)?)"
)
"""A comma before a digit may be a decimal mark: 2,5 h."""


def minutes(of_seconds: float) -> int:
    """Whole minutes that hold a time: a part is not taken out a half minute early."""
    return math.ceil(of_seconds / 60 - 1e-9)


def mold(line: str) -> MoldLoad:
    """ "left: 6 casts, 25 min, 4 h": name, casts, handling, demold. Raises Refused."""
    casts = "|".join(re.escape(word) for word in (t("cast"), t("casts")))
    found = re.fullmatch(_MOLD.format(casts=casts), line.strip(), re.IGNORECASE)
    if found is None:
        raise Refused(
            t("{line} is not a mold.", line=repr(line)),
            t('Write it as "left: 6 casts, 25 min, 4 h" (handling, then demold).'),
        )
    try:
        handling, demold = seconds(found["handling"], bare="min"), seconds(found["demold"], bare="h")
    except NotAQuantity as wrong:
        raise Refused(f"{line!r}: {wrong}", t("Handling first, then the demold time.")) from None
    return MoldLoad(found["name"].strip(), int(found["casts"]), minutes(handling), minutes(demold))


def hours(clock: str, days: str) -> Hours:
    """ "9:00-17:00" and "Mo Tu We" or "Mo-Fr". Raises Refused."""
    found = re.fullmatch(r"\s*(\d{1,2})[:.]([0-5]\d)\s*[-–]\s*(\d{1,2})[:.]([0-5]\d)\s*", clock)
    if found is None:
        raise Refused(t("{clock} are no working hours.", clock=repr(clock)), t('Write them as "9:00-17:00".'))
    start, end = int(found[1]) * 60 + int(found[2]), int(found[3]) * 60 + int(found[4])
    spans = [_span(word, days) for word in re.split(r"[\s,]+", re.sub(r"\s*[-–]\s*", "-", days.strip()))]
    return Hours(start, end, frozenset(day for span in spans for day in span))


def _span(word: str, days: str) -> list[int]:
    """The days of "Mo", "Monday" or "Fr-Mo", 0 Monday. Raises Refused."""
    ends = [[n for n in range(7) if _is_day(end, n)] for end in word.lower().split("-")]
    if len(ends) > 2 or not all(ends):
        raise Refused(
            t("{days} are no days of the week.", days=repr(days)), t('Write them as "Mo Tu We Th Fr" or "Mo-Fr".')
        )
    (first, *_), (last, *_) = ends[0], ends[-1]
    return [(first + n) % 7 for n in range((last - first) % 7 + 1)]


def _is_day(typed: str, day: int) -> bool:
    """Whether these small letters mean a day of the week, 0 Monday."""
    return typed == t(DAYS[day]).lower() or (len(typed) > 1 and _NAMED[day].startswith(typed))


def starting(first: date, wait_days: float) -> int:
    """Minutes from the first day until the material is there. Raises Refused for days that no calendar has."""
    if not 0 <= wait_days <= MOST_DAYS:
        raise Refused(
            t("{days} days until work begins cannot be.", days=number(wait_days)),
            t("Type 0 to {most}.", most=MOST_DAYS),
        )
    if first.year > date.max.year - 3:
        raise Refused(t("{day} is too far off.", day=first.isoformat()), t("Type the day on which the work begins."))
    return math.ceil(wait_days) * DAY_MIN
