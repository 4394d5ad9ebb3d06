"""How work is typed: a mold with its casts, working hours, days of the week, and the day on which it begins."""

from __future__ import annotations

import math
import re
from datetime import date

from station.casting.schedule import DAY_MIN, MOST_DAYS, Hours, MoldLoad
from station.errors import Refused
from station.quantities import NotAQuantity, seconds

DAYS = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
_NAMED = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MOLD = re.compile(
    r"(?P<name>[^:]+):\s*(?P<casts>\d{1,3})\s*(?:×|x|casts?)?\s*,\s*(?P<handling>[^,]+),\s*(?P<demold>[^,]+)"
)


def minutes(of_seconds: float) -> int:
    """Whole minutes that hold a time: a part is not taken out a half minute early."""
    return math.ceil(of_seconds / 60 - 1e-9)


def mold(line: str) -> MoldLoad:
    """ "left: 6 casts, 25 min, 4 h": name, casts, handling, demold. Raises Refused."""
    found = _MOLD.fullmatch(line.strip())
    if found is None:
        raise Refused(f"{line!r} is not a mold.", 'Write it as "left: 6 casts, 25 min, 4 h" (handling, then demold).')
    try:
        handling, demold = seconds(found["handling"], bare="min"), seconds(found["demold"], bare="h")
    except NotAQuantity as wrong:
        raise Refused(f"{line!r}: {wrong}", "Handling first, then the demold time.") from None
    return MoldLoad(found["name"].strip(), int(found["casts"]), minutes(handling), minutes(demold))


def hours(clock: str, days: str) -> Hours:
    """ "9:00-17:00" and "Mo Tu We" or "Mo-Fr". Raises Refused."""
    found = re.fullmatch(r"\s*(\d{1,2})[:.]([0-5]\d)\s*[-–]\s*(\d{1,2})[:.]([0-5]\d)\s*", clock)
    if found is None:
        raise Refused(f"{clock!r} are no working hours.", 'Write them as "9:00-17:00".')
    start, end = int(found[1]) * 60 + int(found[2]), int(found[3]) * 60 + int(found[4])
    spans = [_span(word, days) for word in re.split(r"[\s,]+", re.sub(r"\s*[-–]\s*", "-", days.strip()))]
    return Hours(start, end, frozenset(day for span in spans for day in span))


def _span(word: str, days: str) -> list[int]:
    """The days of "Mo", "Monday" or "Fr-Mo", 0 Monday. Raises Refused."""
    ends = [
        [n for n, name in enumerate(_NAMED) if len(end) > 1 and name.startswith(end)] for end in word.lower().split("-")
    ]
    if len(ends) > 2 or not all(ends):
        raise Refused(f"{days!r} are no days of the week.", f'Write them as "{" ".join(DAYS[:5])}" or "Mo-Fr".')
    (first, *_), (last, *_) = ends[0], ends[-1]
    return [(first + n) % 7 for n in range((last - first) % 7 + 1)]


def starting(first: date, wait_days: float) -> int:
    """Minutes from the first day until the material is there. Raises Refused for days that no calendar has."""
    if not 0 <= wait_days <= MOST_DAYS:
        raise Refused(f"{wait_days:g} days until work begins cannot be.", f"Type 0 to {MOST_DAYS}.")
    if first.year > date.max.year - 3:
        raise Refused(f"{first.isoformat()} is too far off.", "Type the day on which the work begins.")
    return math.ceil(wait_days) * DAY_MIN
