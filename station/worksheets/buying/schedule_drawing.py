"""A schedule as a picture: a row a mold, days across, work and cures as bars, closed hours shaded."""

from __future__ import annotations

from datetime import date, timedelta

from station.casting.schedule import DAY_MIN, Hours, Schedule
from station.drawing.marks import Anchor, Box, Drawing, Ink, Label, Line, Mark
from station.texts import t

WIDTH = 720.0
_LEFT, _RIGHT, _TOP, _ROW = 92.0, 712.0, 34.0, 30.0
MOST_LABELS = 12


def calendar(made: Schedule, hours: Hours, first: date) -> Drawing:
    """From the first day to the last demold; handling full, cures slanted, closed hours grey."""
    molds = list(dict.fromkeys(cast.mold for cast in made.casts))
    begin = min(cast.begun for cast in made.casts) // DAY_MIN * DAY_MIN
    end = (max(cast.demolded for cast in made.casts) // DAY_MIN + 1) * DAY_MIN
    per = (_RIGHT - _LEFT) / (end - begin)
    bottom = _TOP + len(molds) * _ROW

    def at(minute: float) -> float:
        return _LEFT + (minute - begin) * per

    marks: list[Mark] = []
    days = range(begin // DAY_MIN, end // DAY_MIN)
    step = -(-len(days) // MOST_LABELS)
    for day in days:
        midnight, on = day * DAY_MIN, first + timedelta(days=day)
        open_ = on.weekday() in hours.weekdays
        closed = [(0, hours.start), (hours.end, DAY_MIN)] if open_ else [(0, DAY_MIN)]
        for low, high in closed:
            if high > low:
                marks.append(Box(at(midnight + low), _TOP, (high - low) * per, bottom - _TOP, Ink.SHADE))
        marks.append(Line(at(midnight), _TOP - 6, at(midnight), bottom, Ink.FAINT))
        if day % step == 0:
            marks.append(Label(at(midnight) + 3, _TOP - 12, f"{on.day}.{on.month}.", Anchor.START, 13))
    for row, name in enumerate(molds):
        y = _TOP + row * _ROW
        marks.append(Label(_LEFT - 6, y + 20, name[:12], Anchor.END, 13, bold=True))
        for cast in made.casts:
            if cast.mold == name:
                marks.append(
                    Box(at(cast.begun), y + 5, max(1.5, (cast.poured - cast.begun) * per), _ROW - 10, Ink.FILL)
                )
                marks.append(Box(at(cast.poured), y + 5, (cast.demolded - cast.poured) * per, _ROW - 10, Ink.HATCH))
        marks.append(Line(_LEFT, y + _ROW, _RIGHT, y + _ROW, Ink.FAINT))
    for x, ink, words in (
        (_LEFT, Ink.FILL, t("at work")),
        (_LEFT + 110, Ink.HATCH, t("cures")),
        (_LEFT + 210, Ink.SHADE, t("closed")),
    ):
        marks += [Box(x, bottom + 14, 14, 14, ink), Label(x + 20, bottom + 26, words, size=13)]
    from_day = (first + timedelta(days=begin // DAY_MIN)).isoformat()
    to_day = (first + timedelta(days=max(cast.demolded for cast in made.casts) // DAY_MIN)).isoformat()
    spoken = t(
        "{casts} casts in {molds} molds from {from_day} to {to_day}.",
        casts=len(made.casts),
        molds=len(molds),
        from_day=from_day,
        to_day=to_day,
    )
    return Drawing(t("Casts over the days"), spoken, WIDTH, bottom + 36, tuple(marks))
