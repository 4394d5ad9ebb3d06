"""Meanwhile: what the pan shows while nobody is asked to pour, during stirring and the last check."""

from __future__ import annotations

from dataclasses import replace

from station.core import events as ev
from station.core.contact import Rise, landed, watched
from station.core.cups import contact, lifted
from station.core.emptiness import watch_empty
from station.core.late_drips import drip_mg, late_drip, watch_stirring
from station.core.mass import Mass
from station.core.rest import at_rest
from station.core.standing import Cast
from station.core.steps import Combine, PreMix, ReadyCheck, Weigh
from station.core.turn import Turn
from station.texts import t

POURS_ON_S = 2.5


def watch_meanwhile(turn: Turn) -> None:
    """While the cup just weighed should only stand there: is it lifted, does more drip in, has somebody begun to pour?

    A hurried person may pour before the last check is confirmed. The clock must run then too, and what was
    poured must not be taken for a late drip of the component before.
    """
    cast = turn.cast
    found, gross = _reactive_ahead(cast), turn.pan.gross
    if found is None or gross is None:
        return
    ahead, step = found
    cup = cast.cup(step.cup)
    if cup is None:
        return
    if turn.pan.proven and lifted(turn, cup):
        return
    if isinstance(cast.step, PreMix):
        watch_empty(turn)
    if gross.mg < cup.level.mg / 2:
        turn.pan = replace(turn.pan, rise=None)
        return
    card = cast.plan.scale
    drips = drip_mg(step, card)
    net = gross - cup.level
    turn.pan = replace(turn.pan, rise=watched(turn.pan.rise, net, turn.now, card))
    load = at_rest(turn.pan.window, card)
    rise = turn.pan.rise
    if load is not None and (load - cup.level).mg > drips and rise is not None:
        _poured_unasked(turn, ahead, rise)
    elif load is not None and isinstance(cast.step, ReadyCheck) and turn.pan.proven:
        late_drip(turn, load, drips)
    elif load is not None and isinstance(cast.step, PreMix):
        watch_stirring(turn, drips)
    elif rise is not None and _pours_on(turn, rise, net, drips):
        _poured_unasked(turn, ahead, rise)


def _reactive_ahead(cast: Cast) -> tuple[int, Combine | Weigh] | None:
    """The step of first contact and its place, when only stirring and checking lie before it."""
    if cast.contact is not None:
        return None
    for index in range(cast.position, len(cast.steps)):
        match cast.steps[index]:
            case ReadyCheck() | PreMix():
                continue
            case (Combine() | Weigh(reactive=True)) as step:
                return index, step
            case _:
                return None
    return None


def _pours_on(turn: Turn, rise: Rise, net: Mass, drips_mg: int) -> bool:
    """A rise that lasts and has grown by more than drips, while nothing has come to rest yet."""
    lasted = turn.now.boot_s - rise.began.boot_s >= POURS_ON_S
    return lasted and net.mg >= rise.first_mg + 2 * drips_mg


def _poured_unasked(turn: Turn, ahead: int, rise: Rise) -> None:
    for index in range(turn.cast.position, ahead):
        turn.record(ev.StepDone(turn.cast.number, index, t("the scale: pouring had begun"), early=True))
    contact(turn, landed(rise, turn.cast.plan.scale), t("poured before the check was confirmed"))
    turn.pan = replace(turn.pan, proven=True)
