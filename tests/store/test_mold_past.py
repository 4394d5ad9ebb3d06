"""What became of the casts in each mold."""

from dataclasses import replace

from station.core import events as ev
from station.core.judging_events import Verdict
from station.core.material import Mold
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.stories import SEAT_PAD, Story, foam_plan

OTHER = Mold("grip", "Paddle grip")


def test_casts_are_counted_by_mold_and_by_how_they_ended(tmp_path):
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.whole_cast(1)
    story.whole_cast(2)
    for number, verdict in ((1, Verdict.GOOD), (2, Verdict.SCRAP), (2, Verdict.USABLE)):
        story.tell(ev.Judged(number, verdict, (), "", "page"), 5)
    story.weigh_both(3)
    story.tell(ev.Aborted(3, "spilt", "page"), 5)
    story.weigh_both(4)
    story.tell(ev.BatchLost(4, "too much A"), 5)
    story.tell(ev.CastBegun(5, replace(foam_plan(), mold=OTHER), "page"), 60)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        assert archive.mold_pasts() == {}
        ledger.write(story.entries)
        found = archive.mold_pasts()
        begun = {line.number: line.begun for line in archive.casts()}
    assert set(found) == {SEAT_PAD.key, OTHER.key}
    pad, grip = found[SEAT_PAD.key], found[OTHER.key]
    assert (pad.casts, pad.out, pad.failed, pad.last_number, pad.last) == (4, 2, 2, 4, begun[4])
    # The last word on a part counts.
    assert (pad.good, pad.usable, pad.scrap, grip.good) == (1, 1, 0, 0)
    assert (grip.casts, grip.out, grip.failed, grip.last_number, grip.last) == (1, 0, 0, 5, begun[5])
