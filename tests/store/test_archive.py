"""Questions to the record: one cast's whole batch record with its numbers.

The sums of two-cup weighing are worked out by hand beside each check from the story's masses; the ratio by
weight follows from its definition, parts of one component per 100 parts of the other.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.steps import Weigh
from station.records import BatchRecord, Stage
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.store.stories import TWO_CUP_STEPS, G, Story


def recorded(folder: Path, story: Story, number: int = 1) -> BatchRecord:
    """The batch record after this story."""
    with SqlLedger(folder) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        record = archive.record(number)
    assert record is not None
    return record


@pytest.fixture
def whole(tmp_path: Path) -> BatchRecord:
    """The record of one cast that went well."""
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.whole_cast(1)
    return recorded(tmp_path, story)


def test_planned_and_actual_masses_stand_side_by_side(whole: BatchRecord) -> None:
    a, b = whole.ingredients
    assert (a.planned, a.actual, a.target, a.low, a.high) == (G("189.4"), G("190"), G("189.4"), G("185.7"), G("193.1"))
    assert a.error_percent == pytest.approx((190.0 - 189.4) / 189.4 * 100)
    assert b.error_percent == pytest.approx((112.1 - 112.5) / 112.5 * 100)
    assert (a.lot, b.lot) == ("A-0417", "B-0093")
    assert (whole.planned_total, whole.actual_total) == (G(300), G("187.2") + G("112.1"))


def test_the_ratio_counts_what_was_transferred(whole: BatchRecord) -> None:
    """187.2 g of A arrived in B's 112.1 g: 59.88 B per 100 A, where the sheet wants 60."""
    a, b = whole.ratio
    assert (whole.ingredients[0].in_mix, whole.ingredients[0].in_mix_by) == (G("187.2"), "mass gained while combining")
    assert (a.component, a.sheet, a.actual, a.error_percent) == ("A", 100, 100, 0)
    assert b.sheet == pytest.approx(60)
    assert b.actual == pytest.approx(112.1 / 187.2 * 100)
    assert b.error_percent == pytest.approx(112.1 / 187.2 * 100 / 60 * 100 - 100)
    assert whole.sheet_ratio == "A 100 : B 60 by weight"


def test_without_a_combining_weight_the_allowance_counts(tmp_path: Path) -> None:
    """190.0 g A in a cup that keeps 1.9 g of every 189.4 g: 190.0 x (1 - 1.9/189.4) = 188.094 g arrive."""
    story = Story()
    story.weigh_both(1)
    story.combine(1, gained=None)
    record = recorded(tmp_path, story)
    assert record.ingredients[0].in_mix == G("188.094")
    assert "allowance" in record.ingredients[0].in_mix_by
    assert record.ratio[1].actual == pytest.approx(112.1 / 188.094 * 100)


def test_without_a_combining_weight_the_emptied_cup_counts_more_than_the_allowance(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1, gained=None)
    story.tell(ev.EmptiedCupWeighed(1, "A", "A", G("2.5"), G("190.0")), 60)
    record = recorded(tmp_path, story)
    assert record.ingredients[0].in_mix == G("187.5")
    assert "emptied cup" in record.ingredients[0].in_mix_by


def test_a_ratio_is_not_told_before_everything_is_weighed(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    del story.entries[-1]
    record = recorded(tmp_path, story)
    assert record.ratio[1].actual is None
    assert record.ratio[1].error_percent is None
    assert record.ingredients[1].actual is None
    assert record.stage is Stage.AT_BENCH


def test_the_course_has_its_times_and_spans(whole: BatchRecord) -> None:
    """Contact; combined 6 s later; mixed 17 s, poured 8 s, closed 12 s, alarm 1188 s, 25 + 30 + 60 s to demolding."""
    course = whole.course
    assert course.mix_s == pytest.approx(17)
    assert course.contact_to_poured_s == pytest.approx(6 + 17 + 8)
    assert course.contact_to_closed_s == pytest.approx(6 + 17 + 8 + 12)
    assert course.poured_to_demolded_s == pytest.approx(12 + 1188 + 25 + 30 + 60)
    marks = [course.begun, course.contact, course.mix_started, course.mixed, course.poured, course.closed]
    walls = [at.wall for at in (*marks, course.demolded) if at is not None]
    assert len(walls) == 7
    assert walls == sorted(walls)
    assert (whole.temperatures_c, whole.humidities_percent, whole.pot_life_s) == ((21.5,), (48.0,), 50)


def test_a_cast_that_went_well_missed_nothing(whole: BatchRecord) -> None:
    (alarm,) = whole.alarms
    assert (alarm.clock, alarm.by, alarm.after_s, alarm.missed) == (ClockKind.DEMOLD, "button", 25, "")
    assert whole.missed == ()
    assert [remark.words for remark in whole.remarks] == ["Fills the corner well."]


@pytest.mark.parametrize(("after_s", "missed"), [(60.0, ""), (61.0, "answered after 61 s"), (None, "not known")])
def test_an_alarm_answered_late_counts_as_missed(tmp_path: Path, after_s: float | None, missed: str) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.AlarmRaised(1, ClockKind.POT_LIFE, 0.0, "pot life is over"), 50)
    story.tell(ev.AlarmAcknowledged(1, ClockKind.POT_LIFE, "pedal", after_s), after_s or 5)
    record = recorded(tmp_path, story)
    assert missed in record.alarms[0].missed
    assert bool(record.alarms[0].missed) == bool(missed) == bool(record.missed)


def test_an_alarm_that_nobody_answered_counts_as_missed_in_record_and_list(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.AlarmRaised(1, ClockKind.POT_LIFE, 0.0, "pot life is over"), 50)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        record = archive.record(1)
        assert record is not None
        assert record.missed == ("pot life: nobody has answered it",)
        assert archive.casts()[0].missed == 1


@pytest.mark.parametrize(("trusted", "late_s"), [(True, 300.0), (False, None)])
def test_an_alarm_that_fell_due_in_a_power_cut_counts_as_missed(
    tmp_path: Path, trusted: bool, late_s: float | None
) -> None:
    clock = ScriptedClock()
    story = Story(clock)
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1)
    seen = clock.now()
    back = clock.reboot(1500, trusted)
    story.tell(ev.StationStarted(seen, "0.1.0"))
    story.tell(ev.AlarmRaised(1, ClockKind.DEMOLD, late_s, "fell due while off"), 1)
    story.tell(ev.AlarmAcknowledged(1, ClockKind.DEMOLD, "page", 4.0), 4)
    record = recorded(tmp_path, story)
    said = "fell due while the station was off, 300 s" if trusted else "may have fallen due while the station was off"
    assert record.alarms[0].missed.startswith(said)
    (outage,) = record.outages
    assert outage.seconds == (pytest.approx((back.wall - seen.wall).total_seconds()) if trusted else None)
    assert outage.back.sure == trusted


def test_an_alarm_that_sounds_on_time_after_a_restart_is_not_missed(tmp_path: Path) -> None:
    clock = ScriptedClock()
    story = Story(clock)
    story.weigh_both(1)
    story.combine(1)
    seen = clock.now()
    clock.reboot(10)
    story.tell(ev.StationStarted(seen, "0.1.0"))
    story.tell(ev.AlarmRaised(1, ClockKind.DEMOLD, 0.3, "demold time reached"), 1100)
    story.tell(ev.AlarmAcknowledged(1, ClockKind.DEMOLD, "page", 4.0), 4)
    assert recorded(tmp_path, story).missed == ()


def test_a_mix_cut_short_is_told(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1, mix_s=9, early=True)
    assert recorded(tmp_path, story).missed == ("mix: cut short after 9 s, at least 15 s were asked for",)


def test_an_overshoot_and_its_rescue_are_told_and_the_top_up_counts(tmp_path: Path) -> None:
    """B overshot to 116 g; 5.9 g A more are weighed for it: A's target is what it has, 190.0 g, and 5.9 g."""
    story = Story()
    story.weigh_both(1, b="116.0")
    top_up = Weigh("A", "A", G("5.9"), G("2.2"), G("9.6"), already=G("190.0"))
    steps = (*TWO_CUP_STEPS[:4], top_up, *TWO_CUP_STEPS[4:])
    words = "3.5 g too much B: the batch becomes 309.3 g."
    story.tell(ev.Recomputed(1, "B", G("116"), G("3.5"), G("309.3"), steps, words), 1)
    story.tell(ev.Accepted(1, 4, "A", "A", G("6.1"), G("5.9"), G("2.2"), G("9.6"), G("208.4")), 20)
    record = recorded(tmp_path, story)
    a = record.ingredients[0]
    assert (a.actual, a.target, a.low, a.high) == (G("196.1"), G("195.9"), G("192.2"), G("199.6"))
    assert [remark.words for remark in record.overshoots] == [words]


def test_a_reopened_weighing_is_told_and_only_the_later_one_counts(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.Reopened(1, 3, "B", G("126.9")), 2)
    story.tell(ev.Accepted(1, 3, "B", "B", G("112.9"), G("112.5"), G("110.3"), G("114.7"), G("126.9")), 4)
    record = recorded(tmp_path, story)
    assert record.ingredients[1].actual == G("112.9")
    assert [one.reopened for one in record.weighings] == [False, True, False]
    assert record.overshoots[0].words == "More B came after it was accepted."


def test_how_it_ended_is_told(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.Aborted(1, "the lid does not close", "page"), 10)
    record = recorded(tmp_path, story)
    assert (record.stage, record.ending) == (Stage.GIVEN_UP, "the lid does not close (by page)")


def test_two_casts_at_once_keep_apart(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1)
    story.weigh_both(2, lot="A-0555")
    story.tell(ev.Noted(1, "a bubble at the vent", "page"), 3)
    story.cure_and_demold(1)
    with SqlLedger(tmp_path) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        one, two = archive.record(1), archive.record(2)
    assert one is not None
    assert two is not None
    assert [len(one.weighings), len(two.weighings)] == [2, 2]
    assert [remark.words for remark in one.remarks] == ["a bubble at the vent", "Fills the corner well."]
    assert two.remarks == two.alarms == ()
    assert two.ingredients[0].lot == "A-0555"
