"""Worksheet of a working schedule: casts over molds and days, as a table and a picture."""

from __future__ import annotations

import re
from datetime import date, timedelta

from station.casting.schedule import DAY_MIN, Hours, MoldLoad, Schedule, casts_a_day, schedule
from station.errors import Refused
from station.quantities import NotAQuantity, seconds
from station.worksheets.buying.schedule_drawing import calendar
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind

DAYS = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
_MOLD = re.compile(
    r"(?P<name>[^:]+):\s*(?P<casts>\d{1,3})\s*(?:×|x|casts?)?\s*,\s*(?P<handling>[^,]+),\s*(?P<demold>[^,]+)"
)


def mold(line: str) -> MoldLoad:
    """ "left: 6 casts, 25 min, 4 h": name, casts, handling, demold. Raises Refused."""
    found = _MOLD.fullmatch(line.strip())
    if found is None:
        raise Refused(f"{line!r} is not a mold.", 'Write it as "left: 6 casts, 25 min, 4 h" (handling, then demold).')
    try:
        handling, demold = seconds(found["handling"], bare="min"), seconds(found["demold"], bare="h")
    except NotAQuantity as wrong:
        raise Refused(f"{line!r}: {wrong}", "Handling first, then the demold time.") from None
    return MoldLoad(found["name"].strip(), int(found["casts"]), round(handling / 60), round(demold / 60))


def hours(clock: str, days: str) -> Hours:
    """ "9:00-17:00" and "Mo Tu We". Raises Refused."""
    found = re.fullmatch(r"\s*(\d{1,2})[:.](\d\d)\s*[-–]\s*(\d{1,2})[:.](\d\d)\s*", clock)
    if found is None:
        raise Refused(f"{clock!r} are no working hours.", 'Write them as "9:00-17:00".')
    start, end = int(found[1]) * 60 + int(found[2]), int(found[3]) * 60 + int(found[4])
    named = [word[:2].capitalize() for word in re.split(r"[\s,]+", days.strip())]
    if not set(named) <= set(DAYS):
        raise Refused(f"{days!r} are no days of the week.", f"Write them as {' '.join(DAYS[:5])}.")
    return Hours(start, end, frozenset(DAYS.index(name) for name in named))


def _work(values: Values) -> Worked:
    molds = [mold(line) for line in values["molds"]]
    at = hours(values["hours"], values["days"])
    first: date = values["first"]
    made = schedule(molds, at, first.weekday(), from_min=round(values["delivery"]) * DAY_MIN)
    return shown(made, molds, at, first)


def shown(made: Schedule, molds: list[MoldLoad], at: Hours, first: date) -> Worked:
    """A schedule as rows, table and picture."""
    last = max(cast.demolded for cast in made.casts)
    begun = min(cast.begun for cast in made.casts)
    rows = [
        Row(
            "Last part out of the mold",
            _when(last, first),
            f"{len(made.casts)} casts over {last // DAY_MIN - begun // DAY_MIN + 1} days",
        ),
        *(
            Row(
                f"{one.name} in a day",
                f"{casts_a_day(one, at)} casts",
                f"{at.end - at.start} min of work, {one.handling_min} min of handling, {one.demold_min} min to demold",
            )
            for one in molds
            if one.casts
        ),
        Row(
            "No schedule is shorter than",
            f"{made.bound_min / 60:.1f} h",
            "all handling one after another, or the longest mold's chain",
        ),
    ]
    table = Table(
        "The casts",
        ("mold", "cast", "begin", "poured", "ready", "out"),
        tuple(
            (c.mold, str(c.number), *(_when(m, first) for m in (c.begun, c.poured, c.ready, c.demolded)))
            for c in made.casts
        ),
    )
    return Worked(
        tuple(rows),
        {
            "casts": [
                {
                    "mold": c.mold,
                    "number": c.number,
                    "begun_min": c.begun,
                    "poured_min": c.poured,
                    "demolded_min": c.demolded,
                }
                for c in made.casts
            ],
            "last_min": last,
            "bound_min": made.bound_min,
        },
        notes=(
            "A schedule by a plain rule, not proved the shortest. One pair of hands; cures run over night; parts come "
            "out in working hours.",
            "Demold times are of the sheet's temperature: a cold workshop takes longer.",
        ),
        drawings=(calendar(made, at, first),),
        tables=(table,),
    )


def _when(minute: int, first: date) -> str:
    day = first + timedelta(days=minute // DAY_MIN)
    return f"{DAYS[day.weekday()]} {day.day:02d}.{day.month:02d}. {minute % DAY_MIN // 60:02d}:{minute % 60:02d}"


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "schedule",
        "Working schedule",
        "When is everything cast and out of its molds?",
        (
            Field(
                "molds",
                "Molds",
                Kind.LINES,
                hint="One a line: left: 6 casts, 25 min, 4 h (handling, then demold).",
            ),
            Field("first", "First day", Kind.DATE, "2026-03-02"),
            Field("delivery", "Material comes after days", Kind.NUMBER, "0"),
            Field("hours", "Working hours", Kind.TEXT, "9:00-17:00"),
            Field("days", "Working days", Kind.TEXT, "Mo Tu We Th Fr"),
        ),
        _work,
    ),
)
