"""Wording: what the page and the voice say about a step. One place, so that the words agree."""

from __future__ import annotations

from typing import assert_never

from station.core.events import RecordRestored
from station.core.mass import ZERO, Mass
from station.core.pan import Pan
from station.core.plan import Way
from station.core.snapshot import ColumnView, Fill, ScaleState, ScaleView
from station.core.standing import Cast
from station.core.steps import (
    Close,
    Combine,
    Cure,
    Mix,
    PlaceCup,
    Pour,
    PreMix,
    ReadyCheck,
    Step,
    Weigh,
    WeighEmptied,
)


def restored_words(restored: RecordRestored) -> str:
    """What a person must know after the record was restored."""
    held = f"The record was restored: it holds {restored.rows} rows"
    held += f", beginning with those of the backup {restored.base}." if restored.base else "; no backup was used."
    lost = f" {restored.lost} rows are lost: compare the last casts with what you know." if restored.lost else ""
    aside = f" The earlier files are kept in {restored.set_aside}." if restored.set_aside else ""
    return held + lost + aside


def label(step: Step) -> str:
    """The step's name on the strip."""
    match step:
        case ReadyCheck():
            return "Ready?"
        case PlaceCup(cup=cup):
            name = _cup_name(cup)
            return name[0].upper() + name[1:]
        case Weigh(ingredient=ingredient, already=already):
            return f"Top up {ingredient}" if already > ZERO else f"Weigh {ingredient}"
        case PreMix(ingredient=ingredient):
            return f"Stir in {ingredient}"
        case Combine(source=source, cup=cup):
            return f"{source} into {cup}"
        case Mix():
            return "Mix"
        case Pour():
            return "Pour"
        case Close():
            return "Close"
        case WeighEmptied(cup=cup):
            return f"Emptied {cup}"
        case Cure():
            return "Cure"
        case _:
            assert_never(step)


def _cup_name(cup: str) -> str:
    return f"cup {cup}" if len(cup) <= 2 else cup


def detail(cast: Cast, index: int, step: Step) -> str:
    """The result of a done step, or the target of one to come."""
    d = cast.plan.scale.readability
    match step:
        case Weigh():
            taken = next((taken for taken in cast.accepted if taken.step == index), None)
            return taken.net.text(d) if taken is not None else step.target.text(d)
        case Combine():
            return step.target.text(d)
        case PreMix() | Mix():
            return f"{step.seconds:.0f} s"
        case _:
            return ""


def title(cast: Cast, pan: Pan) -> str:
    """What to do now, in a few large words."""
    step, d = cast.step, cast.plan.scale.readability
    match step:
        case ReadyCheck():
            return "All within reach?"
        case PlaceCup(cup=cup, again=again):
            return f"Put {_cup_name(cup)} back" if again else f"Put an empty {_cup_name(cup)} on the scale"
        case Weigh() | Combine() if not pan.proven:
            return f"Put {_cup_name(step.cup)} back"
        case Weigh(ingredient=ingredient, target=target):
            return f"Pour {target.text(d)} {ingredient}"
        case Combine(source=source, cup=cup, target=target):
            return f"Pour {source} into {cup}: {target.text(d)}"
        case PreMix(ingredient=ingredient):
            return f"Stir {ingredient} in"
        case Mix():
            return "Mix"
        case Pour():
            return "Pour into the mold"
        case Close():
            return "Close and clamp"
        case WeighEmptied(cup=cup):
            return f"Emptied {_cup_name(cup)} on the scale"
        case Cure():
            return "Cures"
        case _:
            assert_never(step)


def what_to_do(cast: Cast, pan: Pan, column: ColumnView | None, scale: ScaleView) -> str:
    """One sentence for now."""
    step, d = cast.step, cast.plan.scale.readability
    if cast.paused:
        return "Nothing is weighed. The clocks run on."
    on_the_scale = isinstance(step, PlaceCup | Weigh | Combine | WeighEmptied)
    if on_the_scale and scale.state is not ScaleState.LIVE:
        # What the link says of a lost port already ends with that promise.
        lost = scale.state is ScaleState.LOST
        return scale.words if lost else f"{scale.words} Weighing goes on by itself when the scale is back."
    if pan.complaint:
        return pan.complaint
    match step:
        case ReadyCheck():
            return "From first contact on nothing can be fetched. Check the list, then press."
        case PlaceCup() if pan.used:
            return "Take the used cup off first: it must not be tared for this one."
        case PlaceCup(again=True):
            return "It is recognised by its weight."
        case PlaceCup():
            return "It is tared by itself as soon as it stands still."
        case Weigh() | Combine() if column is None or column.net is None:
            return "It is recognised by its weight; then it goes on where it was."
        case Weigh() | Combine():
            assert column is not None
            return _pour_words(column, cast, d)
        case PreMix(seconds=seconds):
            return f"At least {seconds:.0f} s, scraping sides and bottom; then press."
        case Mix(seconds=seconds):
            return f"At least {seconds:.0f} s, scraping sides and bottom. Press when you pour."
        case Pour():
            return "In a thin stream at the lowest point. Press when it is poured."
        case Close():
            return "Lid on, clamps tight: rising foam pushes. Press when it is closed."
        case WeighEmptied(mix=True):
            return "Without the stick. What stayed in it makes the next plan's loss better. A press skips it."
        case WeighEmptied(cup=cup):
            return f"What clings to {_cup_name(cup)} makes the next allowance better. A press skips it."
        case Cure():
            return "Leave it."
        case _:
            assert_never(step)


def _pour_words(column: ColumnView, cast: Cast, d: Mass) -> str:
    net = column.net
    assert net is not None
    left = (column.target - net).text(d)
    match column.fill:
        case Fill.UNDER:
            one_cup = " on top" if cast.plan.way is Way.ONE_CUP and cast.accepted else ""
            return f"{left} to go{one_cup}."
        case Fill.NEAR:
            return f"Slowly: {left} to go."
        case Fill.IN_BAND:
            return "Stop. Hands off until it is accepted."
        case Fill.OVER:
            over = (net - column.target).text(d)
            return f"{over} too much. Take a little out, or wait: the rest is recomputed."
        case _:
            assert_never(column.fill)


def press_means(step: Step, pan: Pan) -> str:
    """What a short press does now; empty when it does nothing."""
    match step:
        case ReadyCheck():
            return "all within reach"
        case PreMix():
            return "stirred"
        case Mix():
            return "I pour now"
        case Pour():
            return "poured"
        case Close():
            return "closed"
        case WeighEmptied():
            return "skip"
        case Weigh() | Combine() if pan.grew is not None:
            return "it was poured"
        case Combine():
            return "they meet now / all is in"
        case Weigh() | PlaceCup() | Cure():
            return ""
        case _:
            assert_never(step)
