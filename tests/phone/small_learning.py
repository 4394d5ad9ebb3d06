"""What the pages of learning ask, in memory: the casts of a simulated workshop, its sheets, and a bench to act on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from station.core.advice_events import AdviceAdopted, AdviceKind
from station.core.learning_messages import AdoptAdvice, BeginTrial, TakeTrialCast
from station.core.learning_standing import Trial
from station.core.mass import Mass
from station.core.material import FoamFacts, Material, Mold
from station.core.messages import Command
from station.core.trial_events import TrialSetting
from station.insight.facts import CastFacts
from station.insight.known import known_words
from station.insight.trials.design import designed
from station.phone.learning_view import LAST
from station.records import Known
from tests.benchmarks.advice import UNDERMIXED
from tests.insight.workshop import Workshop
from tests.play import FOAM as SHEET
from tests.play import Play

FOAM = replace(
    SHEET,
    title="Flexible foam",
    times=replace(SHEET.times, pot_life_s=170, mix_s=45, pour_reserve_s=30),
    foam=FoamFacts(0.096, packing_low=1.05, packing_high=1.4),
)
PAD = Mold("seat-pad", "Seat pad", shot=Mass.grams("62"), cavity_cm3=500.0, packing=1.2)


_SETTINGS = (TrialSetting("mix time", ("60 s", "95 s")),)
LEARNED: tuple[Command, ...] = (
    AdoptAdvice(AdviceKind.MIX, "seat-pad", "foam", 61.8, 61.6, 62.1, (1, 2, 3), "test phone"),
    BeginTrial("Longer mixing", _SETTINGS, 4, 41, False, designed(_SETTINGS, 4, 41).runs, "SOFT_SPOT", "test phone"),
    TakeTrialCast(1, 1, 1, "test phone"),
)
"""What a person has told a bench that learns."""


class SmallLearning:
    """Implements `phone.learning_view.LearningBook`; what is asked of it is done on a bench of its own."""

    def __init__(self, casts: int = 45, seed: int = 3) -> None:
        self.casts: list[CastFacts] = Workshop(UNDERMIXED, seed).casts(casts)
        self.play = Play()
        self.play.bench = replace(self.play.bench, standing=replace(self.play.standing, last_number=casts))
        self.degrees: float | None = 21.0

    def done(self, command: Command) -> int:
        """What a page asks of the bench is done here. Raises Refused."""
        self.play.send(command)
        return 0

    def facts(self, *, mold: str = "", material: str = "", last: int = LAST) -> Sequence[CastFacts]:
        return [one for one in self.casts if mold in ("", one.mold) and material in ("", one.material)][-last:]

    def known_molds(self) -> Sequence[Known]:
        return sorted({Known(one.mold, one.mold_title) for one in self.casts}, key=lambda one: one.key)

    def known_materials(self) -> Sequence[Known]:
        return sorted({Known(one.material, one.material_title) for one in self.casts}, key=lambda one: one.key)

    def materials(self) -> Sequence[Material]:
        return (FOAM,)

    def molds(self) -> Sequence[Mold]:
        return (PAD,)

    def adopted(self) -> Sequence[AdviceAdopted]:
        return self.play.standing.adopted

    def trials(self) -> Sequence[Trial]:
        return self.play.standing.trials

    def celsius(self) -> float | None:
        return self.degrees

    def known(self, material: Material, /) -> Sequence[str]:
        return known_words(self.play.standing, material, 900.0)


def busy(book: SmallLearning) -> SmallLearning:
    """The same with advice in use and a trial begun."""
    for told in LEARNED:
        book.done(told)
    return book
