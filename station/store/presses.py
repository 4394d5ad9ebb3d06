"""Who pressed, and for what: the presses and orders of people in the record of a cast."""

from __future__ import annotations

from collections.abc import Sequence

from station.core import events as ev
from station.core.steps import Close, Mix, Pour, PreMix, ReadyCheck, Step, WeighEmptied
from station.records import RemarkRecord
from station.store.evidence import Walls
from station.texts import N_, Phrase


def presses(steps: Sequence[Step], entries: Sequence[ev.Entry], walls: Walls) -> tuple[RemarkRecord, ...]:
    """In the order in which they came. `steps` are those of the cast, as they stood at its end."""
    found: list[RemarkRecord] = []
    for entry in entries:
        said = _said(steps, entry.event)
        if said is not None:
            words, by = said
            found.append(RemarkRecord(walls.shown(entry.at), words, by))
    return tuple(found)


def _said(steps: Sequence[Step], event: ev.Event) -> tuple[Phrase, str] | None:
    match event:
        case ev.CastBegun(by=by):
            return Phrase(N_("begun")), by
        case ev.StepDone(step=step, by=by, early=early):
            words = _step(steps[step]) if 0 <= step < len(steps) else Phrase(N_("went on"))
            return Phrase(N_("{what}, before its time"), what=words) if early else words, by
        case ev.AlarmAcknowledged(clock=clock, by=by):
            return Phrase(N_("heard: {clock}"), clock=Phrase(clock.value)), by
        case ev.Demolded(by=by):
            return Phrase(N_("out of the mold")), by
        case ev.Aborted(by=by):
            return Phrase(N_("given up")), by
        case _:
            return None


def _step(step: Step) -> Phrase:
    match step:
        case ReadyCheck():
            return Phrase(N_("ready for first contact"))
        case PreMix(ingredient=ingredient):
            return Phrase(N_("stirred in {ingredient}"), ingredient=ingredient)
        case Mix():
            return Phrase(N_("mixed"))
        case Pour():
            return Phrase(N_("poured"))
        case Close():
            return Phrase(N_("closed"))
        case WeighEmptied():
            return Phrase(N_("emptied cup not weighed"))
        case _:
            return Phrase(N_("went on"))
