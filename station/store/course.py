"""The course of a cast: when it passed first contact, mixing, pouring, closing and demolding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from station.core import events as ev
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.steps import Close, Mix, PlaceCup, Pour, Step
from station.store.evidence import Walls
from station.store.records import CourseRecord, When


@dataclass(frozen=True, slots=True)
class Course:
    """How the cast went, gathered entry by entry; moments as the station knew them."""

    begun: Moment
    steps: tuple[Step, ...]
    position: int = 0
    contact: Moment | None = None
    mix_started: Moment | None = None
    mixed: Moment | None = None
    poured: Moment | None = None
    closed: Moment | None = None
    demolded: Moment | None = None
    mix_short: bool = False
    ending: str = ""

    def shown(self, walls: Walls) -> CourseRecord:
        """The same with wall times, corrected where they can be, and the spans between them."""

        def when(at: Moment | None) -> When | None:
            return None if at is None else walls.shown(at)

        return CourseRecord(
            begun=walls.shown(self.begun),
            contact=when(self.contact),
            mix_started=when(self.mix_started),
            mixed=when(self.mixed),
            poured=when(self.poured),
            closed=when(self.closed),
            demolded=when(self.demolded),
            mix_s=walls.span_s(self.mix_started, self.mixed),
            contact_to_poured_s=walls.span_s(self.contact, self.poured),
            contact_to_closed_s=walls.span_s(self.contact, self.closed),
            poured_to_demolded_s=walls.span_s(self.poured, self.demolded),
        )


def course_of(plan: CastPlan, entries: Sequence[ev.Entry]) -> Course:
    """The course that these entries of one cast, from its beginning on, describe."""
    course = Course(entries[0].at, plan.steps)
    for entry in entries:
        before = course.position
        course = _after(course, entry)
        if course.position != before and isinstance(_step(course, course.position), Mix):
            course = replace(course, mix_started=entry.at)
    return course


def _step(course: Course, position: int) -> Step | None:
    return course.steps[position] if 0 <= position < len(course.steps) else None


def _after(course: Course, entry: ev.Entry) -> Course:
    at = entry.at
    match entry.event:
        case ev.CupTared() | ev.CupRecognised() if isinstance(_step(course, course.position), PlaceCup):
            return replace(course, position=course.position + 1)
        case ev.EmptiedCupWeighed():
            return replace(course, position=course.position + 1)
        case ev.Accepted(step=step) | ev.Combined(step=step):
            return replace(course, position=step + 1)
        case ev.Reopened(step=step):
            return replace(course, position=step)
        case ev.Recomputed(steps=steps):
            return replace(course, steps=steps)
        case ev.FirstContact(at=contact):
            return replace(course, contact=contact)
        case ev.StepDone(step=step, early=early):
            return replace(_done(course, _step(course, step), at, early), position=step + 1)
        case ev.Demolded():
            return replace(course, demolded=at)
        case ev.BatchLost(reason=reason):
            return replace(course, ending=reason)
        case ev.Aborted(reason=reason, by=by):
            return replace(course, ending=f"{reason} (by {by})" if by else reason)
        case _:
            return course


def _done(course: Course, step: Step | None, at: Moment, early: bool) -> Course:
    match step:
        case Mix():
            return replace(course, mixed=at, mix_short=early)
        case Pour():
            return replace(course, poured=at)
        case Close():
            return replace(course, closed=at)
        case _:
            return course
