"""What is asked of the casts: good against bad, or with a defect against without. Only judged casts can answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.core.judging_events import DefectKind, Verdict
from station.insight.facts import CastFacts
from station.texts import t


@dataclass(frozen=True, slots=True)
class Question:
    """`defect`: casts with it against casts without. None: casts that were not good against those that were."""

    defect: DefectKind | None = None

    def bad(self, cast: CastFacts) -> bool | None:
        """Whether this is one of the casts asked for; None while it is not judged."""
        if cast.verdict is None:
            return None
        if self.defect is None:
            return cast.verdict is not Verdict.GOOD
        return any(one.kind is self.defect for one in cast.defects)

    def answering(self, casts: Sequence[CastFacts]) -> tuple[tuple[CastFacts, bool], ...]:
        """The judged casts, each with its answer, in order of number."""
        judged = [(cast, self.bad(cast)) for cast in sorted(casts, key=lambda one: one.number)]
        return tuple((cast, bad) for cast, bad in judged if bad is not None)

    @property
    def words(self) -> str:
        """What a bad cast is called here."""
        return t("not good") if self.defect is None else t(self.defect.value)
