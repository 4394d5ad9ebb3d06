"""Judging a part: what a person says of it becomes a fact, unless it cannot be true.

That there is such a cast, and that its part is out, is all that the bench can tell; what was said of it before is for
the record to know.
"""

from __future__ import annotations

import math
from typing import Final, assert_never

from station.core import events as ev
from station.core import judging_messages as say
from station.core.judging_events import Defect
from station.core.mass import ZERO, Mass
from station.core.moment import gap_s
from station.core.turn import Turn
from station.errors import Refused
from station.texts import N_, number, t

HEAVIEST: Final = Mass.grams(1_000_000)
HARDEST: Final = 100.0
"""The end of every durometer's scale."""
LONGEST_MM: Final = 100_000.0
MOST_SHRINKAGE: Final = 0.3
"""A larger part of the length is no shrinkage but a slip of the pen. Common practice, no source: silicones and
urethanes shrink by a few percent at most."""
MOST_DEFECTS: Final = 20


def on_judging(turn: Turn, told: say.JudgingCommand) -> None:
    """Let it be a fact. Raises Refused, with a sentence, when it cannot be one."""
    _out_of_its_mold(turn, told.number)
    match told:
        case say.WeighPart(number=cast, mass=mass, trimmed=trimmed, by=by):
            _weighs_something(mass)
            turn.record(ev.PartWeighed(cast, mass, trimmed, by))
        case say.WithdrawPartMass(number=cast, by=by):
            turn.record(ev.PartMassWithdrawn(cast, by))
        case say.ReadHardness():
            _on_its_scale(told.value)
            reading = turn.standing.last_reading + 1
            since = _since_demold_s(turn, told)
            turn.record(ev.HardnessRead(told.number, reading, told.scale, told.value, told.place, since, told.by))
        case say.WithdrawHardness(number=cast, reading=reading, by=by):
            turn.record(ev.HardnessWithdrawn(cast, reading, by))
        case say.MeasureShrinkage():
            _lengths(told.mold_mm, told.part_mm)
            turn.record(ev.ShrinkageMeasured(told.number, told.mold_mm, told.part_mm, told.place, told.by))
        case say.WithdrawShrinkage(number=cast, place=place, by=by):
            turn.record(ev.ShrinkageWithdrawn(cast, place, by))
        case say.Judge(number=cast, verdict=verdict, defects=defects, note=note, by=by):
            _told_once(defects)
            turn.record(ev.Judged(cast, verdict, defects, note.strip(), by))
        case say.WithdrawVerdict(number=cast, by=by):
            turn.record(ev.VerdictWithdrawn(cast, by))
        case say.WaiveJudging(number=cast, reason=reason, by=by):
            if not reason.strip():
                raise Refused(t("Say why nobody will judge this part."), t("The reason is kept in its record."))
            turn.record(ev.JudgingWaived(cast, reason.strip(), by))
        case _:
            assert_never(told)


def _out_of_its_mold(turn: Turn, cast: int) -> None:
    if not 1 <= cast <= turn.standing.last_number:
        raise Refused(t("There is no cast {number}.", number=cast), t("Look it up in the log."))
    open_cast = turn.standing.cast(cast)
    if open_cast is not None and not open_cast.demolded:
        raise Refused(t("Cast {number} is not out of its mold yet.", number=cast), t("Say first that its part is out."))


def _weighs_something(mass: Mass) -> None:
    if not ZERO < mass <= HEAVIEST:
        raise Refused(t("A part cannot weigh {mass}.", mass=mass.text()), t("Weigh it alone, on an empty pan."))


def _on_its_scale(value: float) -> None:
    if not (math.isfinite(value) and 0 <= value <= HARDEST):
        words = t("A durometer shows 0 to 100; {value} is none of its readings.", value=number(value))
        raise Refused(words, t("Read it again, and look which scale it is."))


def _since_demold_s(turn: Turn, told: say.ReadHardness) -> float | None:
    if told.since_demold_s is not None:
        if not (math.isfinite(told.since_demold_s) and told.since_demold_s >= 0):
            raise Refused(t("A part is read after it came out of its mold, not before."))
        return told.since_demold_s
    part = turn.standing.part(told.number)
    return None if part is None else gap_s(part.demolded, turn.now)


def _lengths(mold_mm: float, part_mm: float) -> None:
    for value in (mold_mm, part_mm):
        if not (math.isfinite(value) and 0 < value <= LONGEST_MM):
            raise Refused(t("A length of {value} mm cannot be.", value=number(value)), t("Type it in millimetres."))
    if abs(mold_mm - part_mm) > MOST_SHRINKAGE * mold_mm:
        text = N_("From {mold} mm to {part} mm is more than any of these materials shrinks or swells.")
        raise Refused(
            t(text, mold=number(mold_mm), part=number(part_mm)), t("Measure the same length in both, in millimetres.")
        )


def _told_once(defects: tuple[Defect, ...]) -> None:
    if len(defects) > MOST_DEFECTS:
        raise Refused(t("At most {most} defects are kept of one part.", most=MOST_DEFECTS), t("Name the worst."))
    seen = [(defect.kind, defect.place.casefold()) for defect in defects]
    twice = next((one for one in seen if seen.count(one) > 1), None)
    if twice is not None:
        raise Refused(
            t("{defect} is told twice for the same place.", defect=t(twice[0].value)),
            t("Name another place, or tell it once."),
        )
