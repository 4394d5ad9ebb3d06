"""Known pours: what the lessons in the record make of the next pour of an ingredient at a scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from station.core.guidance.dribble import Dribbled
from station.core.guidance.learned import Learned, Lesson, learn, nothing_yet
from station.core.guidance.line import Line
from station.core.guidance.runon import RunOn
from station.core.guidance.task import Task
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.pouring_events import PouringEvent, PourLearned, PoursForgotten

KEPT = 200
OWN_KEPT, OTHERS_KEPT = 30, 10
"""So many lessons of an ingredient, else of others at the same scale, are gone through before a pour."""

REST_G, REST_SD_G, TIME_SD_S = 0.05, 0.06, 0.15
"""How far another ingredient's run-on may be from this one's (assumed)."""

Pours = tuple[PourLearned, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """Whose lessons these are: an ingredient at a scale of this d and lag. Water in a practice has no material."""

    material: str
    ingredient: str
    d: Mass
    lag_s: float


def pours_after(pours: Pours, event: PouringEvent) -> Pours:
    """What is kept after one more event."""
    match event:
        case PourLearned():
            return (*pours, event)[-KEPT:]
        case PoursForgotten(everything=True):
            return ()
        case PoursForgotten(material=material, ingredient=ingredient):
            return tuple(p for p in pours if (p.material, p.ingredient) != (material, ingredient))


def source_of(pour: PourLearned) -> Source:
    """Whose lesson this is."""
    return Source(pour.material, pour.ingredient, pour.d, pour.lag_s)


def known(pours: Pours, source: Source, task: Task) -> Learned:
    """What is known for `task`: from this ingredient's own pours, else a guess from others at the same scale."""
    own = [p for p in pours if source_of(p) == source][-OWN_KEPT:]
    if own:
        return _taught(own, task)
    others = [p for p in pours if (p.d, p.lag_s) == (source.d, source.lag_s)][-OTHERS_KEPT:]
    if not others:
        return nothing_yet(task.lag_s)
    seen = _taught(others, task)
    line = Line(REST_G, seen.runon.time_s, REST_SD_G**2, 0.0, TIME_SD_S**2)
    scatter = max(seen.runon.scatter_s, nothing_yet(task.lag_s).runon.scatter_s)
    return Learned(RunOn(line, scatter, 4.0))


def _taught(pours: Iterable[PourLearned], task: Task) -> Learned:
    learned = nothing_yet(task.lag_s)
    for pour in pours:
        then = replace(task, target_g=pour.target.g)
        lesson = lesson_of(pour, min(1.0, task.target_g / pour.target.g))
        learned = learn(learned, lesson, then)
    return learned


def lesson_of(pour: PourLearned, smaller: float = 1.0) -> Lesson:
    """The lesson; `smaller` is what the target is of the one it was learned at: a small pour begins less coarsely."""
    return Lesson(pour.flow_g_s, pour.came_g, pour.early, pour.coarse_g_s * smaller, pour.dribbles)


def learned_from(source: Source, target: Mass, lesson: Lesson) -> PourLearned:
    """The lesson as a fact, rounded to what means something."""
    return PourLearned(
        source.material,
        source.ingredient,
        source.d,
        source.lag_s,
        target,
        None if lesson.flow_g_s is None else round(lesson.flow_g_s, 3),
        None if lesson.came_g is None else round(lesson.came_g, 3),
        lesson.early,
        round(lesson.coarse_g_s, 3),
        tuple(Dribbled(round(d.seconds, 2), round(d.came_g, 3)) for d in lesson.dribbles),
    )


def card_source(material: str, ingredient: str, card: ScaleCard) -> Source:
    """The source of lessons for an ingredient at the scale of this card."""
    return Source(material, ingredient, card.readability, card.lag_s)
