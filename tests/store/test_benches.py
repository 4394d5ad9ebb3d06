"""The record of casts that the core itself wrote: what the store shows agrees with what the core's fold says.

Other tests make up their entries; these keep the two sides from drifting apart.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.alarms import sounding
from station.core.bench import resumed
from station.core.fold import apply
from station.core.mass import ZERO, Mass
from station.core.moment import gap_s
from station.core.standing import Cast, Standing
from station.core.steps import Combine, Weigh
from station.records import BatchRecord, Stage
from station.store.archive import Archive
from station.store.batch_record import as_text
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from station.store.verify import verify
from tests.play import FOAM, Play
from tests.store.benches import (
    PLAYS,
    foam_combined_on_the_scale,
    lost_for_want_of_room,
    rubber_through_a_power_cut,
    silicone_to_full_cure,
    silicone_with_a_late_drip,
    silicone_with_a_top_up,
)
from tests.store.disk import opened, tables

every_play = pytest.mark.parametrize("play", PLAYS.values(), ids=PLAYS.keys())


def recorded(folder: Path, play: Play) -> BatchRecord:
    """The batch record of the play's only cast."""
    with SqlLedger(folder) as ledger, Archive(ledger.place) as archive:
        ledger.write(play.entries, play.traces)
        record = archive.record(1)
    assert record is not None
    return record


def last_known(play: Play) -> Cast:
    """The cast as the fold last knew it, also when it is finished."""
    standing, cast = Standing(), None
    for entry in play.entries:
        standing = apply(standing, entry)
        cast = standing.cast(1) or cast
    assert cast is not None
    return cast


@every_play
def test_the_bench_resumes_from_the_disk_as_it_was(tmp_path: Path, play: Callable[[], Play]) -> None:
    played = play()
    with SqlLedger(tmp_path) as ledger:
        for entry in played.entries:
            ledger.write([entry])
    with SqlLedger(tmp_path) as again:
        entries = list(again.entries())
        assert again.last_seen() == played.entries[-1].at
    assert entries == played.entries
    assert resumed(entries).standing == played.standing
    assert verify(tmp_path / "record.db").rows == len(entries)


@every_play
def test_alarms_sound_in_the_tables_when_they_sound_at_the_bench(tmp_path: Path, play: Callable[[], Play]) -> None:
    standing = Standing()
    with SqlLedger(tmp_path) as ledger, opened(tmp_path / "record.db") as db:
        for entry in play().entries:
            ledger.write([entry])
            standing = apply(standing, entry)
            told = db.execute("SELECT cast_number, clock FROM alarms WHERE silenced_seq IS NULL").fetchall()
            heard = [(cast.number, clock.kind.value) for cast, clock in sounding(standing)]
            assert sorted(told) == sorted(heard), entry


@every_play
def test_the_tables_rebuilt_are_the_tables_that_were_there(tmp_path: Path, play: Callable[[], Play]) -> None:
    recorded(tmp_path, play())
    before = tables(tmp_path / "record.db")
    engine = open_writer(tmp_path / "record.db")
    rebuild(engine)
    engine.dispose()
    assert tables(tmp_path / "record.db") == before


@every_play
def test_the_record_weighs_what_the_bench_weighed(tmp_path: Path, play: Callable[[], Play]) -> None:
    played = play()
    record, cast = recorded(tmp_path, played), last_known(played)
    for one in record.ingredients:
        assert (one.actual or ZERO) == cast.weighed(one.ingredient)
    shown = [None if at is None else at.wall for at in (record.course.contact, record.course.poured)]
    assert shown == [None if at is None else at.wall for at in (cast.contact, cast.poured)]
    rescues = [event.words for event in played.events(ev.Recomputed) if getattr(event, "over", ZERO) > ZERO]
    assert [remark.words for remark in record.overshoots if "came after" not in remark.words] == rescues
    assert as_text(record).startswith(f"Cast 1: {cast.plan.material.title} in {cast.plan.mold.title}\n")


@every_play
def test_the_traces_come_back_to_the_millisecond(tmp_path: Path, play: Callable[[], Play]) -> None:
    played = play()
    recorded(tmp_path, played)
    latest = {(trace.number, trace.step): trace.points for trace in played.traces}
    assert latest or not played.events(ev.Accepted)
    with Archive(tmp_path / "record.db") as archive:
        for (number, step), points in latest.items():
            assert archive.trace(number, step) == tuple((round(seconds, 3), mg) for seconds, mg in points)


def test_targets_that_follow_are_no_overshoot_and_the_ratio_is_what_was_weighed(tmp_path: Path) -> None:
    """203.0 g A and 20.3 g B are exactly the sheet's 10 : 1, though 3 g more A than planned were poured."""
    played = silicone_to_full_cure()
    assert played.events(ev.Recomputed), "the target of B followed from A"
    record = recorded(tmp_path, played)
    assert record.overshoots == ()
    assert (record.ratio[1].sheet, record.ratio[1].actual) == (pytest.approx(10), pytest.approx(10))
    assert record.ratio[1].error_percent == pytest.approx(0)
    assert [one.lot for one in record.ingredients] == ["S-11", "S-12"]
    assert record.stage is Stage.DEMOLDED


def test_a_top_up_restores_the_ratio_and_a_late_pour_is_in_the_record(tmp_path: Path) -> None:
    """199.8 + 25.2 g A and 22.5 g B: 10 B per 100 A again."""
    record = recorded(tmp_path, silicone_with_a_top_up())
    a, b = record.ingredients
    assert (a.actual, b.actual) == (Mass.grams("225"), Mass.grams("22.5"))
    assert record.ratio[1].error_percent == pytest.approx(0)
    assert len(record.overshoots) == 1
    assert "too much B" in record.overshoots[0].words
    assert [(alarm.clock.value, alarm.by) for alarm in record.alarms] == [("pour by", "pedal")]
    assert record.stage is Stage.IN_MOLD


def test_a_late_drip_leaves_both_weighings_on_record_and_counts_the_later(tmp_path: Path) -> None:
    record = recorded(tmp_path, silicone_with_a_late_drip())
    assert [(one.net, one.reopened) for one in record.weighings] == [
        (Mass.grams("199"), True),
        (Mass.grams("200.5"), False),
    ]
    assert (record.stage, record.ending) == (Stage.GIVEN_UP, "the mold has a crack (by page)")
    assert [remark.words for remark in record.remarks] == ["a drip"]


def test_what_was_combined_on_the_scale_counts_for_the_ratio(tmp_path: Path) -> None:
    played = foam_combined_on_the_scale()
    (combined,) = played.events(ev.Combined)
    record = recorded(tmp_path, played)
    a, b, pigment = record.ingredients
    assert isinstance(combined, ev.Combined)
    assert (a.in_mix, a.in_mix_by) == (combined.gained, "mass gained while combining")
    assert (b.in_mix, pigment.in_mix) == (b.actual, pigment.actual)
    assert a.in_mix is not None
    assert b.actual is not None
    assert a.in_mix < (a.actual or ZERO), "what clings to the cup did not arrive"
    assert record.ratio[1].actual == pytest.approx(b.actual.mg / a.in_mix.mg * 100)
    assert [one.component for one in record.ratio] == ["A", "B"]
    assert record.course.closed is not None


def test_drops_after_a_transfer_count_with_it_and_the_mixing_began_before_them(tmp_path: Path) -> None:
    played = Play()
    plan = played.begin(FOAM, "160")
    played.put("12.3")
    played.pour(plan.shares[0].planned)
    played.lift()
    played.put("13.1")
    for _ in range(2):
        assert isinstance(played.step, Weigh)
        played.pour(played.step.target, g_per_s=2)
    played.wait(21)
    played.press()
    played.press()
    assert isinstance(played.step, Combine)
    played.pour(played.step.target, g_per_s=30, settle_s=1.5)
    played.load = played.load + Mass.grams("0.7")
    played.stand(2)
    played.wait(16)
    played.press()
    played.lift()
    played.press()
    first, late = (event for event in played.events(ev.Combined) if isinstance(event, ev.Combined))
    assert first.gained is not None
    assert late.gained == Mass.grams("0.7")
    record = recorded(tmp_path, played)
    assert record.ingredients[0].in_mix == first.gained + late.gained
    began, mixed = record.course.mix_started, record.course.mixed
    assert began is not None
    assert mixed is not None
    assert began.wall == next(entry.at.wall for entry in played.entries if entry.event is first)
    with opened(tmp_path / "record.db") as db:
        ((seconds,),) = db.execute("SELECT mix_s FROM pours").fetchall()
    assert seconds == pytest.approx((mixed.wall - began.wall).total_seconds())


def test_a_power_cut_of_unknown_length_is_told_as_unknown(tmp_path: Path) -> None:
    played = rubber_through_a_power_cut()
    record = recorded(tmp_path, played)
    (outage,) = record.outages
    assert (outage.seconds, outage.back.sure) == (None, False)
    # The gap counted as nothing for the cure, so the alarm came in the new boot, hours after the power was back.
    (alarm,) = [alarm for alarm in record.alarms if alarm.clock.value == "demold"]
    assert (alarm.late_s, alarm.by) == (None, "pedal")
    assert alarm.missed == "may have fallen due while the station was off, nobody knows for how long"
    started = next(entry.at for entry in played.entries if isinstance(entry.event, ev.StationStarted))
    raised = next(entry.at for entry in played.entries if isinstance(entry.event, ev.AlarmRaised))
    # RUBBER's demold time is 21,600 s; pouring was over a few seconds before the power failed.
    assert (gap_s(started, raised) or 0) > 21_000
    assert (alarm.after_s or 0) < 60, "answered at once, and counted nevertheless"
    with Archive(tmp_path / "record.db") as archive:
        assert archive.casts()[0].missed == len(record.missed) == 1


def test_a_lost_batch_says_why_with_its_numbers(tmp_path: Path) -> None:
    played = lost_for_want_of_room()
    (lost,) = played.events(ev.BatchLost)
    assert isinstance(lost, ev.BatchLost)
    record = recorded(tmp_path, played)
    assert (record.stage, record.ending) == (Stage.LOST, lost.reason)
    assert "900.0 g" in record.ending
