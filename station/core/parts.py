"""The part on the scale: a free bench asks for what came out of its mold last, and a press takes its mass.

Only several readings at rest in a row, above a pan that was seen empty just before, are taken. A press takes what may
be the part by its mass; anything else on the pan, such as the next cup, leaves the press its usual meaning.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from station.core.alarms import sounding
from station.core.cues import Cue
from station.core.cups import ENOUGH_RESTS
from station.core.emptiness import LEAST_CUP
from station.core.events import PartWeighed
from station.core.judging_messages import TakePart
from station.core.judging_standing import Part
from station.core.mass import Mass
from station.core.messages import Press, Pressed
from station.core.moment import Moment, gap_s
from station.core.pan import Pan, is_live
from station.core.rest import at_rest
from station.core.standing import Standing
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t

ASKED_S: Final = 12 * 3600.0
"""So long after it came out the bench asks for a part; later the page still takes it."""
LEAST_OF_MIX: Final = 0.6
MOST_OF_MIX: Final = 1.1
"""A part weighs at least and at most these parts of its mix, or a press does not take it. Common practice, no source:
cup, flash and gas take a share; a little more is the scale's or an insert's."""


def asked(standing: Standing, now: Moment) -> Part | None:
    """The part that the bench asks for: what came out last, as long as nobody has weighed or judged it."""
    for part in reversed(standing.parts):
        out_s = gap_s(part.demolded, now)
        if part.mass is None and part.verdict is None and out_s is not None and out_s <= ASKED_S:
            return part
    return None


def on_pan(pan: Pan, part: Part, now: Moment) -> Mass | None:
    """What lies at rest on a pan that was seen empty before, above its zero; None: nothing, or it moves."""
    if pan.zero is None or not is_live(pan, now) or pan.rests < ENOUGH_RESTS:
        return None
    load = at_rest(pan.window, part.scale)
    return None if load is None or load < LEAST_CUP else load - pan.zero


def fits(part: Part, mass: Mass) -> bool:
    """Whether this may be the mass of the part, by what was mixed for it."""
    return LEAST_OF_MIX * part.mixed.mg <= mass.mg <= MOST_OF_MIX * part.mixed.mg


def watch_part(turn: Turn) -> None:
    """At a free bench: note the zero of the empty pan, and count readings at rest of what is put on it."""
    if not turn.standing.parts or turn.pan.used:
        return
    load = at_rest(turn.pan.window, turn.standing.parts[-1].scale)
    if load is None:
        turn.pan = replace(turn.pan, rests=0)
    elif abs(load) < LEAST_CUP:
        turn.pan = replace(turn.pan, rests=0, zero=load)
    else:
        turn.pan = replace(turn.pan, rests=turn.pan.rests + 1)


def takes_part(turn: Turn, press: Pressed) -> bool:
    """Whether this press takes what lies on the pan for the part that is asked for."""
    if press.press is not Press.SHORT or turn.standing.bench is not None or sounding(turn.standing):
        return False
    part = asked(turn.standing, turn.now)
    mass = None if part is None else on_pan(turn.pan, part, turn.now)
    return part is not None and mass is not None and fits(part, mass)


def take_by_press(turn: Turn, press: Pressed) -> None:
    """The part that is asked for lies on the pan as it came out: its mass is a fact."""
    part = asked(turn.standing, turn.now)
    assert part is not None
    _taken(turn, part, trimmed=False, by=press.by)


def take_part(turn: Turn, told: TakePart) -> None:
    """What lies on the pan is the part of this cast. Raises Refused when nothing is known of it, or not yet at rest."""
    if turn.standing.bench is not None:
        words = t("Cast {number} is at the bench and needs the scale.", number=turn.standing.bench.number)
        raise Refused(words, t("Weigh the part afterwards, or type what another scale shows."))
    part = turn.standing.part(told.number)
    if part is None:
        raise Refused(
            t("The bench does not wait for the part of cast {number}.", number=told.number),
            t("Type what it weighs on the page of its judging."),
        )
    if turn.pan.zero is None:
        raise Refused(
            t("The pan has not been seen empty yet."), t("Take everything off, wait a moment, and put the part on.")
        )
    if on_pan(turn.pan, part, turn.now) is None:
        raise Refused(t("No part lies at rest on the pan."), t("Put it on, keep your hands off, and try again."))
    _taken(turn, part, trimmed=told.trimmed, by=told.by)


def why_not(turn: Turn) -> str:
    """Why a press at a free bench took no part; empty when none is asked for or nothing lies on the pan."""
    part, gross = asked(turn.standing, turn.now), turn.pan.gross
    if part is None or gross is None or gross < LEAST_CUP:
        return ""
    mass = on_pan(turn.pan, part, turn.now)
    if mass is None:
        return t("Cast {number}: what lies on the pan is not at rest above a pan seen empty.", number=part.number)
    return t(
        "{mass} is hardly the part of cast {number}, for which {mixed} were mixed. If it is, take it on the page.",
        mass=mass.text(part.scale.readability),
        number=part.number,
        mixed=part.mixed.text(part.scale.readability),
    )


def _taken(turn: Turn, part: Part, *, trimmed: bool, by: str) -> None:
    mass = on_pan(turn.pan, part, turn.now)
    assert mass is not None
    turn.record(PartWeighed(part.number, mass, trimmed, by))
    # The same part must not be taken for another cast's: the pan is to be cleared first.
    turn.pan = replace(turn.pan, zero=None, rests=0)
    shown = mass.text(part.scale.readability)
    how = t("trimmed") if trimmed else t("as it came out")
    turn.say(Cue.ACCEPTED, t("Part of cast {number}: {mass}, {how}.", number=part.number, mass=shown, how=how))
