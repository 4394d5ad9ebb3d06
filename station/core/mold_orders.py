"""What a person asks of a mold: release agent is on, it is retired, it is in use again."""

from __future__ import annotations

from typing import assert_never

from station.core.mold_care import care_of
from station.core.mold_events import MoldRetired, MoldReturned, ReleaseApplied
from station.core.mold_messages import ApplyRelease, MoldCommand, RetireMold, ReturnMold
from station.core.turn import Turn
from station.errors import Refused
from station.texts import t


def order_mold(turn: Turn, command: MoldCommand) -> None:
    """Let it be a fact. Raises Refused for what makes no sense. Whether there is such a mold its sheet tells."""
    care = care_of(turn.standing.molds, command.mold)
    match command:
        case ApplyRelease(mold=mold, by=by):
            turn.record(ReleaseApplied(mold, by))
        case RetireMold(mold=mold, reason=reason, by=by):
            if not reason.strip():
                raise Refused(t("Say why the mold is retired."), t("The reason is kept in the record."))
            if care.retired:
                raise Refused(t("The mold is retired already: {why}", why=care.retired))
            turn.record(MoldRetired(mold, reason.strip(), by))
        case ReturnMold(mold=mold, by=by):
            if not care.retired:
                raise Refused(t("The mold is in use: it was not retired."))
            turn.record(MoldReturned(mold, by))
        case _:
            assert_never(command)
