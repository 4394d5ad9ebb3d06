"""What pours have taught, and how a practice goes, in words and numbers for the page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import fmean

from station.core.guidance.learned import Learned
from station.core.guidance.task import Task
from station.core.known_pours import Source, known, source_of
from station.core.mass import Mass
from station.core.pouring_events import PourLearned
from station.core.practice_state import Practice
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


def misses(practice: Practice) -> list[tuple[int, str, str, str]]:
    """Each pour: its number, what was poured, how far off, and that in a word."""
    d = practice.card.readability
    return [
        (n, net.text(d), _signed(net - practice.target, d), _word(practice, net))
        for n, net in enumerate(practice.done, 1)
    ]


def progress(practice: Practice) -> str:
    """How far the first pours were off and how far the latest are; empty while there are too few."""
    off = [abs((net - practice.target).g) for net in practice.done]
    if len(off) < 2 * LATELY - 1:
        return ""
    return t(
        "Off by {first} g at first, by {lately} g lately.",
        first=number(fmean(off[:2]), ".2g"),
        lately=number(fmean(off[-LATELY:]), ".2g"),
    )


def _signed(off: Mass, d: Mass) -> str:
    return ("+" if off.mg > 0 else "") + off.text(d)


def _word(practice: Practice, net: Mass) -> str:
    return t("too much") if net > practice.high else t("in the band")
