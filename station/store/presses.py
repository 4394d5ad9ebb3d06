"""Who pressed, and for what: the presses and orders of people in the record of a cast."""

from __future__ import annotations

from collections.abc import Sequence

from station.core import events as ev
from station.core.steps import Close, Mix, Pour, PreMix, ReadyCheck, Step, WeighEmptied
from station.records import RemarkRecord
from station.store.evidence import Walls


def presses(steps: Sequence[Step], entries: Sequence[ev.Entry], walls: Walls) -> tuple[RemarkRecord, ...]:
    """In the order in which they came. `steps` are those of the cast, as they stood at its end."""
    found: list[RemarkRecord] = []
    for entry in entries:
        said = _said(steps, entry.event)
        if said is not None:
            words, by = said
            found.append(RemarkRecord(walls.shown(entry.at), words, by))
    return tuple(found)


def _said(steps: Sequence[Step], event: ev.Event) -> tuple[str, str] | None:
    match event:
        case ev.CastBegun(by=by):
            return "begun", by
        case ev.StepDone(step=step, by=by, early=early):
            words = _step(steps[step]) if 0 <= step < len(steps) else "went on"
            return words + (", before its time" if early else ""), by
        case ev.AlarmAcknowledged(clock=clock, by=by):
            return f"heard: {clock.value}", by
        case ev.Demolded(by=by):
            return "out of the mold", by
        case ev.Aborted(by=by):
            return "given up", by
        case _:
            return None


def _step(step: Step) -> str:
    match step:
        case ReadyCheck():
            return "ready for first contact"
        case PreMix(ingredient=ingredient):
            return f"stirred in {ingredient}"
        case Mix():
            return "mixed"
        case Pour():
            return "poured"
        case Close():
            return "closed"
        case WeighEmptied():
            return "emptied cup not weighed"
        case _:
            return "went on"
