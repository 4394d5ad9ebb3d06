"""Account: what happened, line by line, for somebody who watches the demo in a terminal."""

from __future__ import annotations

from station.core import events as ev
from station.core.cues import Cue
from station.core.effects import Say
from station.core.events import Entry
from station.core.moment import Moment
from station.texts import t, tc


def told(what: Entry | Say, at: Moment) -> str:
    """One line, or nothing for what a cue says anyway."""
    clock = f"{at.wall:%H:%M:%S}"
    if isinstance(what, Say):
        return f"{clock}  ♪ {_names()[what.cue]:14} {what.words}".rstrip()
    match what.event:
        case ev.CastBegun(number=number, plan=plan):
            begun = t(
                "cast {number}: {total} of {material} for {mold}",
                number=number,
                total=plan.total.text(),
                material=plan.material.title,
                mold=plan.mold.title,
            )
            return f"\n{clock}  {begun}"
        case ev.AlarmRaised(why=why):
            alarm = t("alarm")
            return f"{clock}  ! {alarm:13} {why}"
        case ev.Demolded(number=number):
            out = t("demolded")
            return f"{clock}    {out:14} " + t("cast {last}", last=number)
        case ev.Recomputed(over=over, words=words) if over.mg > 0:
            name = tc("cue", "recomputed")
            return f"{clock}    {name:14} {words}"
        case _:
            return ""


def _names() -> dict[Cue, str]:
    """Each cue in a word or two, for the column beside what it says."""
    return {
        Cue.TARED: tc("cue", "tared"),
        Cue.ACCEPTED: tc("cue", "accepted"),
        Cue.KEPT_IN_MEMORY: tc("cue", "kept in memory"),
        Cue.CONTACT: tc("cue", "contact"),
        Cue.NEAR: tc("cue", "near"),
        Cue.STOP: tc("cue", "stop"),
        Cue.OVER: tc("cue", "over"),
        Cue.RECOMPUTED: tc("cue", "recomputed"),
        Cue.LOST: tc("cue", "lost"),
        Cue.GO_ON: tc("cue", "go on"),
        Cue.MIX_ENOUGH: tc("cue", "mix enough"),
        Cue.PAUSED: tc("cue", "paused"),
        Cue.RESUMED: tc("cue", "resumed"),
        Cue.REFUSED: tc("cue", "refused"),
        Cue.CUP_LIFTED: tc("cue", "cup lifted"),
        Cue.CUP_KNOWN: tc("cue", "cup known"),
        Cue.NO_SCALE: tc("cue", "no scale"),
        Cue.DEMOLDED: tc("cue", "demolded"),
        Cue.DONE: tc("cue", "done"),
        Cue.ACKNOWLEDGED: tc("cue", "acknowledged"),
        Cue.READY: tc("cue", "ready"),
    }
