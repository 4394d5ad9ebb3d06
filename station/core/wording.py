"""Wording: what the page and the voice say about a step. One place, so that the words agree."""

from __future__ import annotations

from typing import assert_never

from station.core.cup_words import cup_name, cup_title
from station.core.events import RecordRestored
from station.core.mass import ZERO, Mass
from station.core.pan import Pan
from station.core.plan import Way
from station.core.pourable import PIPETTE, too_fine
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
from station.texts import N_, t, tc, tn

_FROM_BACKUP = N_("The record was restored: it holds {rows} rows, beginning with those of the backup {base}.")
_WITHOUT_BACKUP = N_("The record was restored: it holds {rows} rows; no backup was used.")


def restored_words(restored: RecordRestored) -> str:
    """What a person must know after the record was restored."""
    held = _FROM_BACKUP if restored.base else _WITHOUT_BACKUP
    held = t(held, rows=restored.rows, base=restored.base)
    lost = (
        tn(
            " {n} row is lost: compare the last casts with what you know.",
            " {n} rows are lost: compare the last casts with what you know.",
            restored.lost,
        )
        if restored.lost
        else ""
    )
    aside = t(" The earlier files are kept in {set_aside}.", set_aside=restored.set_aside) if restored.set_aside else ""
    return held + lost + aside


def label(step: Step) -> str:
    """The step's name on the strip."""
    match step:
        case ReadyCheck():
            return t("Ready?")
        case PlaceCup(cup=cup):
            return cup_title(cup)
        case Weigh(ingredient=ingredient, already=already):
            return (
                t("Top up {ingredient}", ingredient=ingredient)
                if already > ZERO
                else t("Weigh {ingredient}", ingredient=ingredient)
            )
        case PreMix(ingredient=ingredient):
            return t("Stir in {ingredient}", ingredient=ingredient)
        case Combine(source=source, cup=cup):
            return t("{source} into {cup}", source=source, cup=cup)
        case Mix():
            return tc("a step of a cast", "Mix")
        case Pour():
            return tc("a step of a cast", "Pour")
        case Close():
            return tc("a step of a cast", "Close")
        case WeighEmptied(cup=cup):
            return t("Emptied {cup}", cup=t(cup))
        case Cure():
            return tc("a step of a cast", "Cure")
        case _:
            assert_never(step)


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
            return t("All within reach?")
        case PlaceCup(cup=cup, again=again):
            return (
                t("Put {cup} back", cup=cup_name(cup))
                if again
                else t("Put an empty {cup} on the scale", cup=cup_name(cup))
            )
        case Weigh() | Combine() if not pan.proven:
            return t("Put {cup} back", cup=cup_name(step.cup))
        case Weigh(ingredient=ingredient, target=target):
            return t("Pour {target} {ingredient}", target=target.text(d), ingredient=ingredient)
        case Combine(source=source, cup=cup, target=target):
            return t("Pour {source} into {cup}: {target}", source=source, cup=cup, target=target.text(d))
        case PreMix(ingredient=ingredient):
            return t("Stir {ingredient} in", ingredient=ingredient)
        case Mix():
            return tc("a step of a cast", "Mix")
        case Pour():
            return t("Pour into the mold")
        case Close():
            return t("Close and clamp")
        case WeighEmptied(cup=cup):
            return t("Emptied {cup} on the scale", cup=cup_name(cup))
        case Cure():
            return t("Cures")
        case _:
            assert_never(step)


def what_to_do(cast: Cast, pan: Pan, column: ColumnView | None, scale: ScaleView) -> str:
    """One sentence for now."""
    step, d = cast.step, cast.plan.scale.readability
    if cast.paused:
        return t("Nothing is weighed. The clocks run on.")
    on_the_scale = isinstance(step, PlaceCup | Weigh | Combine | WeighEmptied)
    if on_the_scale and scale.state is not ScaleState.LIVE:
        # What the link says of a lost port already ends with that promise.
        lost = scale.state is ScaleState.LOST
        return (
            scale.words if lost else t("{words} Weighing goes on by itself when the scale is back.", words=scale.words)
        )
    if pan.complaint:
        return pan.complaint
    match step:
        case ReadyCheck():
            return t("From first contact on nothing can be fetched. Check the list, then press.")
        case PlaceCup() if pan.used:
            return t("Take the used cup off first: it must not be tared for this one.")
        case PlaceCup(again=True):
            return t("It is recognised by its weight.")
        case PlaceCup():
            return t("It is tared by itself as soon as it stands still.")
        case Weigh() | Combine() if column is None or column.net is None:
            return t("It is recognised by its weight; then it goes on where it was.")
        case Weigh() | Combine():
            assert column is not None
            said = _pour_words(column, cast, d)
            fine = isinstance(step, Weigh) and too_fine(step.target, step.low, step.high, cast.plan.scale, pan.known)
            return f"{said} {t(PIPETTE)}" if fine and column.fill in (Fill.UNDER, Fill.NEAR) else said
        case PreMix(seconds=seconds):
            return t("At least {seconds} s, scraping sides and bottom; then press.", seconds=f"{seconds:.0f}")
        case Mix(seconds=seconds):
            return t("At least {seconds} s, scraping sides and bottom. Press when you pour.", seconds=f"{seconds:.0f}")
        case Pour():
            return t("In a thin stream at the lowest point. Press when it is poured.")
        case Close():
            return t("Lid on, clamps tight: rising foam pushes. Press when it is closed.")
        case WeighEmptied(mix=True):
            return t("Without the stick. What stayed in it makes the next plan's loss better. A press skips it.")
        case WeighEmptied(cup=cup):
            return t("What clings to {cup} makes the next allowance better. A press skips it.", cup=cup_name(cup))
        case Cure():
            return t("Leave it.")
        case _:
            assert_never(step)


def _pour_words(column: ColumnView, cast: Cast, d: Mass) -> str:
    net = column.net
    assert net is not None
    left = (column.target - net).text(d)
    match column.fill:
        case Fill.UNDER:
            on_top = cast.plan.way is Way.ONE_CUP and cast.accepted
            return t("{left} to go on top.", left=left) if on_top else t("{left} to go.", left=left)
        case Fill.NEAR:
            return t("Slowly: {left} to go.", left=left)
        case Fill.IN_BAND:
            return t("Stop. Hands off until it is accepted.")
        case Fill.OVER:
            over = (net - column.target).text(d)
            return t("{over} too much. Take a little out, or wait: the rest is recomputed.", over=over)
        case _:
            assert_never(column.fill)


def press_means(step: Step, pan: Pan) -> str:
    """What a short press does now; empty when it does nothing."""
    match step:
        case ReadyCheck():
            return t("all within reach")
        case PreMix():
            return t("stirred")
        case Mix():
            return t("I pour now")
        case Pour():
            return t("poured")
        case Close():
            return t("closed")
        case WeighEmptied():
            return t("skip")
        case Weigh() | Combine() if pan.grew is not None:
            return t("it was poured")
        case Combine():
            return t("they meet now / all is in")
        case Weigh() | PlaceCup() | Cure():
            return ""
        case _:
            assert_never(step)
