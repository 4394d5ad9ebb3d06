"""Signs of a fault: how long one must last, when it is over, and what an earlier run has told already."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from station.core.matters import Occasion
from station.core.snapshot import ScaleState
from station.push.signs import (
    PATIENCE_S,
    SETTLED_S,
    Lasting,
    Sign,
    fault_matters,
    remembered,
    signs_of,
    watched,
)
from tests.phone.shown import FREE, LIVE, QUIET

LOST = {Sign.SCALE_LOST: "Cast 14 is in hand and the scale is lost."}
AWAY = replace(LIVE, state=ScaleState.LOST, gross=None, words="The cable is out.")


def test_a_scale_counts_as_lost_only_while_a_cast_is_in_hand() -> None:
    assert signs_of(QUIET, "", "") == {}
    assert signs_of(replace(FREE, scale=AWAY), "", "") == {}
    told = signs_of(replace(QUIET, scale=AWAY), "", "")
    assert told == {Sign.SCALE_LOST: "Cast 14 is in hand and the scale is lost. The cable is out."}


def test_a_record_is_damaged_or_not_written_and_a_missing_backup_is_a_sign() -> None:
    assert signs_of(replace(QUIET, unsaved=3), "", "") == {
        Sign.NOT_WRITTEN: "The record is not written: 3 entries wait in memory."
    }
    both = signs_of(replace(QUIET, unsaved=3), "Row 7 is spoilt.", "No backup for a week.")
    assert set(both) == {Sign.DAMAGED, Sign.NO_BACKUP}
    assert both[Sign.DAMAGED].startswith("Row 7 is spoilt.")


def test_a_lost_scale_is_told_after_ten_minutes_and_not_before() -> None:
    lasting: tuple[Lasting, ...] = ()
    told_at = []
    for second in range(0, 1200, 30):
        lasting = watched(lasting, LOST, float(second))
        if fault_matters(lasting, LOST):
            told_at.append(second)
    assert told_at[0] == PATIENCE_S[Sign.SCALE_LOST] == 600.0
    (matter,) = fault_matters(lasting, LOST)
    assert (matter.key, matter.occasion, matter.live) == ("scale lost", Occasion.SCALE, True)


def test_a_sign_that_goes_before_it_was_told_begins_anew() -> None:
    lasting = watched((), LOST, 0.0)
    lasting = watched(lasting, LOST, 599.0)
    lasting = watched(lasting, {}, 599.5)
    assert lasting == ()
    assert fault_matters(watched(watched(lasting, LOST, 600.0), LOST, 700.0), LOST) == ()


def test_a_loose_cable_stays_one_matter_until_it_has_settled() -> None:
    lasting = (Lasting(Sign.SCALE_LOST, "Lost.", 0.0, 600.0, True),)
    lasting = watched(lasting, {}, 700.0)
    (matter,) = fault_matters(lasting, {})
    assert not matter.live
    lasting = watched(lasting, LOST, 800.0)
    assert fault_matters(lasting, LOST)[0].live
    assert watched(lasting, {}, 800.0 + SETTLED_S - 1) != ()
    assert watched(lasting, {}, 800.0 + SETTLED_S) == ()


def test_what_an_earlier_run_has_told_keeps_its_key_and_has_no_words_until_it_is_seen() -> None:
    lasting = remembered(["scale lost", "cast 12 demold boot-1 5.000"], 20.0)
    assert [(matter.key, matter.words) for matter in fault_matters(lasting, {})] == [("scale lost", "")]
    lasting = watched(lasting, LOST, 30.0)
    assert fault_matters(lasting, LOST)[0].words == LOST[Sign.SCALE_LOST]
    assert watched(remembered(["scale lost"], 20.0), {}, 20.0 + SETTLED_S) == ()


@given(st.lists(st.tuples(st.floats(0.1, 900), st.booleans()), max_size=60))
def test_in_any_course_a_matter_ends_only_after_it_has_settled(course: list[tuple[float, bool]]) -> None:
    lasting: tuple[Lasting, ...] = ()
    now_s = seen_s = 0.0
    for seconds, there in course:
        told_before = any(one.told for one in lasting)
        now_s += seconds
        seen_s = now_s if there else seen_s
        lasting = watched(lasting, LOST if there else {}, now_s)
        if told_before:
            assert any(one.told for one in lasting) is (there or now_s - seen_s < SETTLED_S)
