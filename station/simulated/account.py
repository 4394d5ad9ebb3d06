"""Account: what happened, line by line, for somebody who watches the demo in a terminal."""

from __future__ import annotations

from station.core import events as ev
from station.core.effects import Say
from station.core.events import Entry
from station.core.moment import Moment


def told(what: Entry | Say, at: Moment) -> str:
    """One line, or nothing for what a cue says anyway."""
    clock = f"{at.wall:%H:%M:%S}"
    if isinstance(what, Say):
        name = what.cue.name.lower().replace("_", " ")
        return f"{clock}  ♪ {name:14} {what.words}".rstrip()
    match what.event:
        case ev.CastBegun(number=number, plan=plan):
            return f"\n{clock}  cast {number}: {plan.total.text()} of {plan.material.title} for {plan.mold.title}"
        case ev.AlarmRaised(why=why):
            return f"{clock}  ! alarm         {why}"
        case ev.Demolded(number=number):
            return f"{clock}    demolded       cast {number}"
        case ev.Recomputed(over=over, words=words) if over.mg > 0:
            return f"{clock}    recomputed     {words}"
        case _:
            return ""
