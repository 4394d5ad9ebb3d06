"""Learning desk: the record's facts, the sheets and what was adopted, as the pages of learning ask for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from station.core.advice_events import AdviceAdopted
from station.core.learning_standing import Trial
from station.core.material import Material, Mold
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.insight.facts import CastFacts
from station.insight.known import known_words
from station.phone.learning_view import LAST
from station.records import Known
from station.sheets import Sheets
from station.store.archive import Archive


class LearningDesk:
    """Implements `phone.learning_view.LearningBook`. The callables give the present ones."""

    def __init__(
        self,
        archive: Archive,
        sheets: Callable[[], Sheets],
        place: Callable[[], Workplace],
        standing: Callable[[], Standing],
    ) -> None:
        self._archive, self._sheets, self._place, self._standing = archive, sheets, place, standing

    def facts(self, *, mold: str = "", material: str = "", last: int = LAST) -> Sequence[CastFacts]:
        """Of the poured casts asked for the newest `last`, the oldest of them first."""
        return self._archive.facts(mold=mold, material=material, last=last)

    def known_molds(self) -> Sequence[Known]:
        """Every mold that was ever cast in."""
        return self._archive.molds()

    def known_materials(self) -> Sequence[Known]:
        """Every material that was ever cast."""
        return self._archive.materials()

    def materials(self) -> Sequence[Material]:
        """The material sheets."""
        return self._sheets().materials

    def molds(self) -> Sequence[Mold]:
        """The mold sheets."""
        return self._sheets().molds

    def adopted(self) -> Sequence[AdviceAdopted]:
        """Advice that plans use."""
        return self._standing().adopted

    def trials(self) -> Sequence[Trial]:
        """Trials at hand, the oldest first."""
        return self._standing().trials

    def celsius(self) -> float | None:
        """The temperature at the bench now; None when nobody knows."""
        return self._place().temperature_c

    def known(self, material: Material, /) -> Sequence[str]:
        """What plans of this material use already without being asked, a sentence each."""
        return known_words(self._standing(), material, self._place().cup.capacity.g)
