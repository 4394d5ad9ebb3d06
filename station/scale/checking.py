"""The course of a scale check, as a conversation: it says what to do, watches the readings, asks for what it must
know. Pure.

Every load is read by the scale's own stream once it rests, so nothing has to be typed with gloves on but the
weight's class.
"""

from __future__ import annotations

from collections.abc import Generator
from datetime import date
from decimal import Decimal

from station.core.material import ScaleCard
from station.errors import Refused
from station.metrology.check import CheckReadings
from station.metrology.classes import corner_load_g
from station.metrology.readings import (
    PLACEMENTS,
    Corners,
    DriftSeries,
    Placements,
    Stream,
    WeightReading,
    ZeroReturns,
)
from station.metrology.verdict import CheckResult, checked
from station.scale import course_questions
from station.scale.course_wishes import CourseAnswer, CourseWish, Seen, Watch
from station.scale.finding.wishes import Tell
from station.texts import N_, decimal, number, t

Course = Generator[CourseWish, CourseAnswer, CheckResult]

_SLICE_S = 0.5
_REST_S = 2.5
_PATIENCE_S = 240.0
_EMPTY = Decimal("0.05")
_ON = Decimal("0.5")
_PLACES = (
    N_("Put the weight at the centre of the pan."),
    N_("Put the weight at the front edge of the pan."),
    N_("Put the weight at the back edge of the pan."),
    N_("Put the weight at the left edge of the pan."),
    N_("Put the weight at the right edge of the pan."),
)


def course(card: ScaleCard, on: date, *, placements: int = PLACEMENTS, wanted_percent: float = 1.0) -> Course:
    """The check of the scale described by `card`. Raises Refused for what makes no sense, and when nothing happens."""
    weight = yield from course_questions.weight()
    plate = yield from course_questions.plate()
    minutes = yield from course_questions.minutes()
    nominal = Decimal(str(weight.nominal_g))
    watching = _Watching(card)
    zeros, shown, settling = [], [], []
    yield Tell(t("Empty the pan and let it rest."))
    zero, _ = yield from watching.rest(Decimal(0), nominal)
    for turn in range(1, placements + 1):
        yield Tell(
            t(
                "Put the weight on the middle of the pan ({number} of {placements}).",
                number=turn,
                placements=placements,
            )
        )
        value, settled_s = yield from watching.rest(nominal, nominal)
        shown.append(float(value - zero))
        settling.append(settled_s)
        yield Tell(t("Take it off."))
        zero_return, _ = yield from watching.rest(Decimal(0), nominal)
        zeros.append(float(zero_return - zero))
        zero = zero_return
    corners = yield from _corners(watching, nominal, zero)
    drift = yield from _drift(watching, nominal, minutes)
    readings = CheckReadings(
        readability_g=card.readability.g,
        maximum_g=card.maximum.g,
        zero_returns=ZeroReturns(tuple(zeros)),
        placements=Placements(tuple(shown)),
        weights=(WeightReading(weight, tuple(shown)),),
        corners=corners,
        drift=drift,
        settling_s=tuple(settling),
        stream=watching.stream(),
        plate=plate,
        wanted_percent=wanted_percent,
    )
    return checked(readings, on)


class _Watching:
    """Waits for rest, and keeps what came by for the readability and the rate of renewal."""

    def __init__(self, card: ScaleCard) -> None:
        self._step = Decimal(card.readability.mg) / 1000
        self.maximum_g = card.maximum.g
        self.seen: list[Seen] = []

    def rest(self, wanted: Decimal, nominal: Decimal) -> Generator[CourseWish, CourseAnswer, tuple[Decimal, float]]:
        """The load once it has rested near `wanted` (0 or the weight), and how long it took since it came near."""
        window: list[Seen] = []
        waited = 0.0
        near_since: float | None = None
        while waited < _PATIENCE_S:
            waited += _SLICE_S
            for seen in (yield from self._watched(_SLICE_S)):
                near = abs(seen.grams) < nominal * _EMPTY if not wanted else seen.grams > nominal * _ON
                if not near:
                    near_since, window = None, []
                    continue
                near_since = seen.at_s if near_since is None else near_since
                window = [kept for kept in window if abs(kept.grams - seen.grams) <= self._step] + [seen]
                if seen.at_s - window[0].at_s >= _REST_S:
                    return _middle([kept.grams for kept in window]), max(0.0, window[0].at_s - near_since)
        patience = f"{_PATIENCE_S:.0f}"
        raise Refused(
            t("Nothing came to rest near the weight within {patience} s.", patience=patience)
            if wanted
            else t("Nothing came to rest on the empty pan within {patience} s.", patience=patience),
            t("Shield the scale from draughts, and begin the check again."),
        )

    def _watched(self, seconds: float) -> Generator[CourseWish, CourseAnswer, tuple[Seen, ...]]:
        answer = yield Watch(seconds)
        seen = answer if isinstance(answer, tuple) else ()
        self.seen += seen
        return seen

    def points(self, seconds: float) -> Generator[CourseWish, CourseAnswer, tuple[tuple[float, float], ...]]:
        """A load left alone: one point for every slice in which a reading came."""
        points = []
        for _ in range(round(seconds / _SLICE_S)):
            if seen := (yield from self._watched(_SLICE_S)):
                points.append((seen[-1].at_s, float(seen[-1].grams)))
        return tuple(points)

    def stream(self) -> Stream | None:
        """What was seen last, as the stream's own test; None for too little."""
        last = self.seen[-_STREAM:]
        return Stream(tuple(s.at_s for s in last), tuple(s.shown for s in self.seen)) if len(last) == _STREAM else None


_STREAM = 20


def _corners(watching: _Watching, nominal: Decimal, zero: Decimal) -> Generator[CourseWish, CourseAnswer, Corners]:
    values = []
    if nominal < (best := Decimal(str(round(corner_load_g(watching.maximum_g), 1)))) / 2:
        yield Tell(
            t(
                "Corners show best with about a third of Max, {best} g; with this weight less shows.",
                best=decimal(f"{best.normalize():f}"),
            )
        )
    for place in _PLACES:
        yield Tell(t(place))
        value, _ = yield from watching.rest(nominal, nominal)
        values.append(float(value - zero))
        yield Tell(t("Take it off."))
        zero, _ = yield from watching.rest(Decimal(0), nominal)
    centre, front, back, left, right = values
    return Corners(float(nominal), centre, front, back, left, right)


def _drift(
    watching: _Watching, nominal: Decimal, minutes: float
) -> Generator[CourseWish, CourseAnswer, DriftSeries | None]:
    if not minutes:
        return None
    yield Tell(t("Put the weight on once more and leave it alone for {minutes} min.", minutes=number(minutes)))
    yield from watching.rest(nominal, nominal)
    return DriftSeries((yield from watching.points(minutes * 60)))


def _middle(values: list[Decimal]) -> Decimal:
    return sorted(values)[len(values) // 2]
