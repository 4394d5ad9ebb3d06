"""A part that is out of its mold and judged in full, and a station that has such parts. All of it is invented."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from station.core import judging_messages as say
from station.core import messages as msg
from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.mass import Mass
from station.records import CastPage
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.play import Play
from tests.system.whole import Whole

BY = "page (test phone)"


class SmallJudge:
    """A desk of judging that believes what it is told; nothing waits there."""

    def __init__(self) -> None:
        self.ask: Callable[[msg.Command], object] | None = None

    def tell(self, command: say.JudgingCommand | say.TakePart) -> None:
        """Hand it to whoever stands for the bench."""
        if self.ask is not None:
            self.ask(command)

    def waiting(self, _before: int | None, _limit: int) -> CastPage:
        """Nothing."""
        return CastPage((), newer=False, older=False)


def judged(play: Play, number: int) -> None:
    """Take the part out early and say all that can be said of it, part of it twice."""
    play.send(msg.Demold(number, BY))
    play.wait(600, tick_s=60)
    play.send(say.WeighPart(number, Mass.grams("214.0"), False, BY))
    play.send(say.WeighPart(number, Mass.grams("208.5"), True, BY))
    for value, place in ((27.5, "rim"), (29.0, "middle"), (28.0, "")):
        play.send(say.ReadHardness(number, HardnessScale.SHORE_A, value, place, None, BY))
    play.send(say.MeasureShrinkage(number, 200.0, 199.2, "along", BY))
    defects = (Defect(DefectKind.BUBBLES, Severity.SLIGHT, "under the rim"), Defect(DefectKind.FLASH, Severity.CLEAR))
    play.send(say.Judge(number, Verdict.USABLE, defects, "trimmed with scissors", BY))


def bench_with_parts() -> Play:
    """Cast 1 is judged, cast 2 is out and waits, cast 3 is in its mold."""
    play = Play()
    play.silicone_in_the_mold()
    play.silicone_in_the_mold()
    judged(play, 1)
    play.send(msg.Demold(2, BY))
    play.silicone_in_the_mold()
    return play


@contextmanager
def station_with_parts(folder: Path) -> Iterator[Whole]:
    """A whole station with the record of that bench."""
    play = bench_with_parts()
    with SqlLedger(folder) as ledger:
        ledger.write(play.entries, play.traces)
    with Whole(folder, ScriptedClock(play.wall, play.boot_s)) as station:
        yield station
