"""What pours have taught, in words and numbers for the page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from station.core.guidance.learned import Learned
from station.core.guidance.task import Task
from station.core.known_pours import Source, known, source_of
from station.core.pouring_events import PourLearned
from station.texts import number, t, tn

STEADY_AFTER = 3
"""With fewer pours than this, what is learned is mostly a guess still."""

LATELY = 3


@dataclass(frozen=True, slots=True)
class LearnedRow:
    """One ingredient at one scale: its name, the scale, what is known, and the keys by which it can be forgotten."""

    material: str
    ingredient: str
    title: str
    scale: str
    sentences: tuple[str, ...]


def learned_rows(pours: tuple[PourLearned, ...], titles: Mapping[str, str]) -> list[LearnedRow]:
    """One row for each ingredient and scale, the one poured last first; `titles` are those of materials by key."""
    sources = dict.fromkeys(source_of(pour) for pour in reversed(pours))
    return [_row(source, [p for p in pours if source_of(p) == source], pours, titles) for source in sources]


def _row(
    source: Source, own: list[PourLearned], pours: tuple[PourLearned, ...], titles: Mapping[str, str]
) -> LearnedRow:
    target = own[-1].target.g
    task = Task(target, 0.99 * target, 1.01 * target, source.d.g, source.lag_s)
    material = titles.get(source.material, source.material)
    title = t("{ingredient} of {material}", ingredient=source.ingredient, material=material)
    scale = t("scale of d {d}, lag {lag} s", d=source.d.text(source.d), lag=number(source.lag_s, ".1f"))
    told = tuple(_sentences(known(pours, source, task), own))
    return LearnedRow(source.material, source.ingredient, title if source.ingredient else t("Water"), scale, told)


def _sentences(learned: Learned, own: list[PourLearned]) -> Iterable[str]:
    yield tn("Learned from one pour.", "Learned from {n} pours.", len(own))
    if len(own) < STEADY_AFTER:
        yield t("That is mostly a guess still.")
    yield t(
        "After the stop the stream goes on for about {seconds} s, give or take {spread} s, lag of the scale included.",
        seconds=number(learned.runon.time_s, ".1f"),
        spread=number(learned.runon.scatter_s, ".2f"),
    )
    if learned.trickle_g_s is not None:
        yield t("The thinnest stream at a stop was {flow} g/s.", flow=number(learned.trickle_g_s, ".1f"))
    early = sum(pour.early for pour in own[-LATELY:])
    if early == min(LATELY, len(own)):
        yield t("The stream is still fast when it has to stop: the pace begins earlier now.")
