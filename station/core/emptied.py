"""The emptied cup back on the scale: what stayed in it is learned for the next plan."""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.batch import scale_g, total_at
from station.core.cues import Cue
from station.core.cup_words import cup_name
from station.core.cups import ENOUGH_RESTS
from station.core.emptiness import watch_empty
from station.core.guiding import load_at_rest
from station.core.mass import ZERO
from station.core.steps import WeighEmptied
from station.core.turn import Turn
from station.texts import number, t


def weigh_emptied(turn: Turn, step: WeighEmptied) -> None:
    """Note what stayed in the emptied cup, or say that this is another one."""
    cast = turn.cast
    cup = cast.cup(step.cup)
    watch_empty(turn)
    load = load_at_rest(turn)
    if load is None or cup is None or load.mg < cup.tare.mg / 2:
        return
    if not turn.pan.emptied or turn.pan.rests < ENOUGH_RESTS:
        return
    residue = load - cup.tare
    d = cast.plan.scale.readability
    held = total_at(cast.plan, scale_g(cast)) if step.mix else cup.held
    most = max(held.mg // 5, 2 * d.mg)
    if not -2 * d.mg <= residue.mg <= most:
        words = t(
            "{load} is not the emptied {cup}, which weighed {tare}. Press to skip it.",
            load=load.text(d),
            cup=cup_name(step.cup),
            tare=cup.tare.text(d),
        )
        turn.pan = replace(turn.pan, complaint=words)
        return
    residue = max(ZERO, residue)
    if step.mix:
        turn.record(ev.MixCupWeighed(cast.number, step.cup, residue, held, cast.plan.cup.capacity))
        words = t(
            "{residue} of the mix stayed in the cup, {mg} %.",
            residue=residue.text(d),
            mg=number(residue.mg / held.mg * 100, ".1f"),
        )
    else:
        share = next(s for s in cast.plan.shares if s.cup == step.cup and s.component)
        turn.record(ev.EmptiedCupWeighed(cast.number, step.cup, share.ingredient, residue, cup.held))
        words = t("{residue} stayed in cup {cup}.", residue=residue.text(d), cup=step.cup)
    turn.pan = replace(turn.pan, used=True)
    turn.say(Cue.ACCEPTED, t("{words} Noted for the next plan.", words=words))
