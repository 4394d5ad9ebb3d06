"""The course of a cast: when it passed first contact, mixing, pouring, closing and demolding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from station.core import events as ev
from station.core.fold import apply
from station.core.moment import Moment
from station.core.standing import Cast, Standing
from station.core.steps import Close, Mix, Pour, Step
from station.records import CourseRecord, When
from station.store.evidence import Walls
from station.texts import N_, Phrase


@dataclass(frozen=True, slots=True)
class Course:
    """How the cast went, gathered entry by entry; moments as the station knew them."""

    begun: Moment
    steps: tuple[Step, ...] = ()
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


def course_of(entries: Sequence[ev.Entry]) -> Course:
    """The course that these entries of one cast, from its beginning on, describe; where it stands says the fold."""
    number = ev.cast_number(entries[0].event)
    assert number is not None, "the station's own entries are no cast's"
    course, standing = Course(entries[0].at), Standing()
    for entry in entries:
        before = standing.cast(number)
        standing = apply(standing, entry)
        course = _after(course, entry, before)
        after = standing.cast(number)
        if after is not None:
            course = _entered(course, before, after, entry.at)
    return course


def _entered(course: Course, before: Cast | None, after: Cast, at: Moment) -> Course:
    course = replace(course, steps=after.steps)
    moved = before is None or before.position != after.position
    return replace(course, mix_started=at) if moved and isinstance(after.step, Mix) else course


def _after(course: Course, entry: ev.Entry, before: Cast | None) -> Course:
    at = entry.at
    match entry.event:
        case ev.FirstContact(at=contact):
            return replace(course, contact=contact)
        case ev.StepDone(step=step, early=early) if before is not None:
            return _done(course, before.steps[step], at, early)
        case ev.Demolded():
            return replace(course, demolded=at)
        case ev.BatchLost(reason=reason):
            return replace(course, ending=reason)
        case ev.Aborted(reason=reason, by=by):
            return replace(
                course, ending=Phrase(N_("{reason} (by {by})"), reason=reason, by=Phrase(by)) if by else reason
            )
        case _:
            return course


def _done(course: Course, step: Step, at: Moment, early: bool) -> Course:
    match step:
        case Mix():
            return replace(course, mixed=at, mix_short=early)
        case Pour():
            return replace(course, poured=at)
        case Close():
            return replace(course, closed=at)
        case _:
            return course
