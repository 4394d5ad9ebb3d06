"""Worksheet of a working schedule: casts over molds and days, as a table and a picture."""

from __future__ import annotations

from datetime import date, timedelta

from station.casting.schedule import DAY_MIN, Hours, MoldLoad, Schedule, casts_a_day, schedule
from station.texts import N_, t, tc, tn
from station.worksheets.buying.schedule_drawing import calendar
from station.worksheets.buying.working import DAYS, hours, mold, starting
from station.worksheets.form import Field, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind


def _work(values: Values) -> Worked:
    molds = [mold(line) for line in values["molds"]]
    at = hours(values["hours"], values["days"])
    first: date = values["first"]
    made = schedule(molds, at, first.weekday(), from_min=starting(first, values["delivery"]))
    return shown(made, molds, at, first)


def shown(made: Schedule, molds: list[MoldLoad], at: Hours, first: date) -> Worked:
    """A schedule as rows, table and picture."""
    last = max(cast.demolded for cast in made.casts)
    begun = min(cast.begun for cast in made.casts)
    over = last // DAY_MIN - begun // DAY_MIN + 1
    rows = [
        Row(
            t("Last part out of the mold"),
            _when(last, first),
            tn("{casts} casts in one day", "{casts} casts in {n} days", over, casts=len(made.casts)),
        ),
        *(
            Row(
                t("{mold} in a day", mold=one.name),
                t("{casts} casts", casts=casts_a_day(one, at)),
                t(
                    "{work} min of work, {handling} min of handling, {demold} min to demold",
                    work=at.end - at.start,
                    handling=one.handling_min,
                    demold=one.demold_min,
                ),
            )
            for one in molds
            if one.casts
        ),
        Row(
            t("No schedule ends before"),
            _when(made.not_before, first),
            t("this one ends then: it cannot be bettered")
            if last == made.not_before
            else t("one mold with the hands to itself, or all handling and one cure"),
        ),
    ]
    table = Table(
        t("The casts"),
        (
            t("mold"),
            t("cast"),
            tc("a column of a schedule", "begin"),
            t("poured"),
            tc("a column of a schedule", "ready"),
            tc("a column of a schedule", "out"),
        ),
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
            "not_before_min": made.not_before,
        },
        notes=(
            t(
                "A schedule by a plain rule, not proved the shortest. One pair of hands; cures run over night; parts "
                "come out in working hours, and taking one out counts as part of the handling of a cast."
            ),
            t("Demold times are of the sheet's temperature: a cold workshop takes longer."),
        ),
        drawings=(calendar(made, at, first),),
        tables=(table,),
    )


def _when(minute: int, first: date) -> str:
    day = first + timedelta(days=minute // DAY_MIN)
    return f"{t(DAYS[day.weekday()])} {day.day:02d}.{day.month:02d}. {minute % DAY_MIN // 60:02d}:{minute % 60:02d}"


WORKSHEETS: tuple[Worksheet, ...] = (
    Worksheet(
        "schedule",
        N_("Working schedule"),
        N_("When is everything cast and out of its molds?"),
        (
            Field(
                "molds",
                N_("Molds"),
                Kind.LINES,
                hint=N_("One a line: left: 6 casts, 25 min, 4 h (handling, then demold)."),
            ),
            Field("first", N_("First day"), Kind.DATE, hint=N_("On which the work begins, such as 2026-03-02.")),
            Field("delivery", N_("Material comes after days"), Kind.NUMBER, "0"),
            Field("hours", N_("Working hours"), Kind.TEXT, "9:00-17:00"),
            Field("days", N_("Working days"), Kind.TEXT, "Mo-Fr", hint=N_("Or Mo Tu We Th Fr.")),
        ),
        _work,
    ),
)
