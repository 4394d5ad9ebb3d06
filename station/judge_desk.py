"""The desk of judging: what the record knows of a part is looked up before the bench is told a word about it."""

from __future__ import annotations

from collections.abc import Callable

from station.core.judging_messages import (
    JudgingCommand,
    TakePart,
    WithdrawHardness,
    WithdrawPartMass,
    WithdrawShrinkage,
    WithdrawVerdict,
)
from station.core.messages import Command
from station.errors import Refused
from station.part_records import PartRecord
from station.records import Asked, CastPage, Stage
from station.store.archive import Archive
from station.texts import t


class JudgeDesk:
    """Implements `phone.judge_view.JudgeDesk`. `ask` hands a command to the bench."""

    def __init__(self, archive: Archive, ask: Callable[[Command], int | None]) -> None:
        self._archive, self._ask = archive, ask

    def waiting(self, before: int | None, limit: int) -> CastPage:
        """Casts whose parts wait for a verdict, newest first. Raises LedgerFault."""
        return self._archive.page(Asked(unjudged=True), before=before, limit=limit)

    def tell(self, command: JudgingCommand | TakePart) -> None:
        """Let it be a fact of the record. Raises Refused when it cannot be one, or Fault."""
        record = self._archive.record(command.number)
        if record is None:
            raise Refused(t("There is no cast {number}.", number=command.number), t("Look it up in the log."))
        if record.stage is not Stage.DEMOLDED:
            words = t("Cast {number} is {stage}: it has no part.", number=command.number, stage=t(record.stage.value))
            raise Refused(words, t("Only a part that is out of its mold can be judged."))
        if record.part is not None and not _there(command, record.part):
            raise Refused(t("That was taken back already, or never said."), t("Load the page again."))
        self._ask(command)


def _there(command: JudgingCommand | TakePart, part: PartRecord) -> bool:
    """Whether there is what the command takes back."""
    match command:
        case WithdrawPartMass():
            return part.mass is not None
        case WithdrawVerdict():
            return part.verdict is not None
        case WithdrawHardness(reading=reading):
            return any(one.reading == reading for one in part.readings)
        case WithdrawShrinkage(place=place):
            return any(one.place == place for one in part.lengths)
        case _:
            return True
