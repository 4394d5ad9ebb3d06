"""Standing: the durable state of the bench, exactly what a fold over the journal gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum

from station.casting.loss import Emptied
from station.core.advice_events import AdviceAdopted
from station.core.clocks import AlarmState, Clock, ClockKind
from station.core.events import Accepted, CastQueued, RecordRestored
from station.core.judging_standing import Part
from station.core.learning_standing import Trial
from station.core.mass import ZERO, Mass
from station.core.mold_care import MoldCare
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.pouring_events import PourLearned
from station.core.steps import Cure, Step
from station.core.walls import BootWall, Outage
from station.texts import N_


class Ending(Enum):
    """How a cast's batch came to its end."""

    LOST = N_("batch lost")
    ABORTED = N_("given up")


@dataclass(frozen=True, slots=True)
class CupOnFile:
    """A cup of this cast: its tare, the mass weighed into it, and the gross reading that weighing starts from."""

    name: str
    tare: Mass
    held: Mass
    level: Mass


@dataclass(frozen=True, slots=True)
class Cast:
    """One cast from its first cup to full cure. `position` counts in `steps`; `since` is when that step began."""

    number: int
    plan: CastPlan
    begun: Moment
    steps: tuple[Step, ...]
    position: int
    since: Moment
    cups: tuple[CupOnFile, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    contact: Moment | None = None
    clocks: tuple[Clock, ...] = ()
    poured: Moment | None = None
    demolded: bool = False
    paused: bool = False
    ending: Ending | None = None

    @property
    def step(self) -> Step:
        """What is to be done now."""
        return self.steps[self.position]

    @property
    def at_bench(self) -> bool:
        """Whether the person still works on it."""
        return self.ending is None and not isinstance(self.step, Cure)

    def cup(self, name: str) -> CupOnFile | None:
        """The cup of this name, None before it was tared."""
        return next((cup for cup in self.cups if cup.name == name), None)

    def clock(self, kind: ClockKind) -> Clock | None:
        """The clock of this kind, None before it started."""
        return next((clock for clock in self.clocks if clock.kind is kind), None)

    def weighed(self, ingredient: str) -> Mass:
        """All that was accepted of an ingredient so far."""
        return sum((taken.net for taken in self.accepted if taken.ingredient == ingredient), start=ZERO)

    @property
    def finished(self) -> bool:
        """Nothing more will happen to it: given up, or out of the mold with no alarm to come."""
        if self.ending is not None:
            return True
        quiet = (AlarmState.STOPPED, AlarmState.ACKNOWLEDGED)
        return self.demolded and all(clock.state in quiet for clock in self.clocks)


@dataclass(frozen=True, slots=True)
class ClingLesson:
    """One emptied cup that was weighed: `percent` of what it held stayed in it."""

    material: str
    ingredient: str
    percent: float


@dataclass(frozen=True, slots=True)
class LotUse:
    """Mass taken from a lot by accepted weighings: since it was `counted`, when it has been."""

    number: str
    used: Mass
    counted: Mass | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """All that must survive: open casts, what was learned, what was noted of the air last, and what is known of time.

    `restored`: the record was restored, and nobody has confirmed yet that he knows. `queue`: plans that wait for the
    bench, the next one first; `last_ticket` is the highest ticket ever given in it. `parts` are out of their molds
    and not judged to their end, the newest last; `last_reading` is the number of the latest hardness reading.
    `adopted`: advice that plans use. `trials`: those at hand; `last_trial` is the highest number ever given to one.
    `lots` by their numbers. `pours`: what led pours taught, the newest last.
    """

    last_number: int = 0
    casts: tuple[Cast, ...] = ()
    lessons: tuple[ClingLesson, ...] = ()
    lots: Mapping[str, LotUse] = field(default_factory=dict)
    temperature_c: float | None = None
    losses: tuple[Emptied, ...] = ()
    walls: tuple[BootWall, ...] = ()
    outages: tuple[Outage, ...] = ()
    restored: RecordRestored | None = None
    queue: tuple[CastQueued, ...] = ()
    last_ticket: int = 0
    parts: tuple[Part, ...] = ()
    adopted: tuple[AdviceAdopted, ...] = ()
    trials: tuple[Trial, ...] = ()
    last_trial: int = 0
    last_reading: int = 0
    molds: tuple[MoldCare, ...] = ()
    pours: tuple[PourLearned, ...] = ()
    humidity_percent: float | None = None

    @property
    def bench(self) -> Cast | None:
        """The cast at the bench; None when the bench is free."""
        return next((cast for cast in self.casts if cast.at_bench), None)

    def cast(self, number: int) -> Cast | None:
        """The open cast of this number."""
        return next((cast for cast in self.casts if cast.number == number), None)

    def part(self, number: int) -> Part | None:
        """The part of this number, None when it is not out of its mold, or all is said of it."""
        return next((part for part in self.parts if part.number == number), None)

    def outage(self, boot_id: str) -> Outage | None:
        """The power cut before this boot; None when there was none, or it is too long ago."""
        return next((cut for cut in self.outages if cut.back.boot_id == boot_id), None)

    def use_of(self, lot: str) -> LotUse:
        """What is known of the use of this lot; nothing used where nothing is."""
        return self.lots.get(lot) or LotUse(lot, ZERO)

    def with_use(self, use: LotUse) -> Standing:
        """The same, with this use of its lot."""
        return replace(self, lots={**self.lots, use.number: use})

    def used(self, lot: str) -> Mass:
        """Mass taken from this lot so far."""
        return self.use_of(lot).used

    def left(self, lot: str, at_first: Mass | None) -> Mass | None:
        """What is left of a lot: of its last count, else of what it held `at_first`; None when neither is known."""
        use = self.use_of(lot)
        known = at_first if use.counted is None else use.counted
        return None if known is None else known - use.used

    def cling_percents(self, material: str, ingredient: str) -> tuple[float, ...]:
        """What was learned about cling for this ingredient, oldest first."""
        return tuple(
            lesson.percent for lesson in self.lessons if lesson.material == material and lesson.ingredient == ingredient
        )
