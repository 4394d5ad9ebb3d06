"""From the journal to the wear of a mold: what was judged and weighed is looked at shot by shot."""

from __future__ import annotations

from station.core import events as ev
from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.core.standing import Standing
from station.insight.wear import Sort
from station.mold_record import MoldRecord
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.stories import SEAT_PAD, G, Story

TEAR = Defect(DefectKind.TEAR, Severity.CLEAR, "at the seam")


def test_tears_and_a_drift_are_found_in_the_record_of_a_mold(tmp_path):
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    for number in range(1, 17):
        story.whole_cast(number)
        story.tell(ev.PartWeighed(number, G(296) + G(number // 2), True, "page"), 60)
        late = number > 8
        story.tell(ev.Judged(number, Verdict.SCRAP if late else Verdict.GOOD, (TEAR,) if late else (), "", "page"), 5)
    story.weigh_both(17)
    story.tell(ev.Aborted(17, "the cup tipped", "page"), 5)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        book = MoldRecord(archive, Standing)
        found = {trend.sort: trend for trend in book.wear(SEAT_PAD.key).trends}
        none = book.wear("no-such-mold").trends
    assert all((trend.n, trend.first, trend.last) == (16, 1, 16) for trend in found.values())
    torn = found[Sort.WORN].halves
    assert torn is not None
    assert ((torn.earlier.bad, torn.later.bad), found[Sort.WORN].claimed) == ((0, 8), True)
    drift = found[Sort.MASS].drift
    assert drift is not None
    assert drift.within.low <= 0.5 <= drift.within.high
    assert found[Sort.MASS].claimed
    assert [trend.n for trend in none] == [0, 0, 0]
