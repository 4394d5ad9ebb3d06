"""Records of the invented Wrenfield Works in a folder, to be exported. All of it is invented."""

from __future__ import annotations

from pathlib import Path

from station.core import events as ev
from station.core.cast_events import Noted
from station.core.effects import KeepTrace
from station.store.ledger import SqlLedger
from tests.core.test_answered import cured
from tests.phone.judged_part import bench_with_parts
from tests.play import Play
from tests.store.stories import Story

FORMULAS = ("=SUM(A1:A9)", "+1", "-1+2", "@here", "\tx", "\rx", "'quoted", 'plain; "a", b\nand ü €')


def written(folder: Path, story: Story, traces: list[KeepTrace] | None = None) -> Path:
    """The record of a story in a state folder."""
    with SqlLedger(folder) as ledger:
        ledger.write(story.entries, traces or ())
        return ledger.place


def played(folder: Path) -> tuple[Path, Play]:
    """A record with weighing traces and a cast whose alarm sounded, as a bench in a person's hands gives it."""
    play = cured()
    with SqlLedger(folder) as ledger:
        ledger.write(play.entries, play.traces)
        return ledger.place, play


def with_parts(folder: Path) -> Path:
    """A record with a part that is judged in full, one that waits, and one in its mold."""
    play = bench_with_parts()
    with SqlLedger(folder) as ledger:
        ledger.write(play.entries, play.traces)
        return ledger.place


def two_casts() -> Story:
    """Two whole casts and one begun; notes that look like formulas."""
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.tell(ev.TemperatureNoted(21.5), 1)
    story.whole_cast(1)
    story.whole_cast(2, lot="=1+1")
    for words in FORMULAS:
        story.tell(Noted(2, words, "page"), 1)
    story.weigh_both(3)
    return story
