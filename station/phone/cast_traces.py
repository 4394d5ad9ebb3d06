"""How each component of a cast was poured, as the sheet of the cast draws it from the weighing traces."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from station.drawing.svg import svg
from station.errors import Fault
from station.phone.cast_pictures import Traces, pour_title, pouring
from station.records import BatchRecord
from station.texts import t


@dataclass(frozen=True, slots=True)
class TraceView:
    """How one component was poured: a picture and its moments, or a sentence why there is none."""

    title: str
    picture: Markup
    moments: tuple[str, ...]
    trouble: str = ""


def trace_views(record: BatchRecord, log: Traces) -> tuple[TraceView, ...]:
    """The pours of a record, in their order; `log` has the traces."""
    found = []
    for one in record.weighings:
        title = t("{pour}, later reopened", pour=pour_title(one)) if one.reopened else pour_title(one)
        try:
            trace = log.trace(record.number, one.step)
        except Fault as why:
            found.append(TraceView(title, Markup(""), (), why.sentence()))
            continue
        drawn = None if trace is None or one.reopened else pouring(one, trace, record.readability)
        if drawn is not None:
            found.append(TraceView(title, Markup(svg(drawn.picture)), drawn.moments))
    return tuple(found)
