"""Facts of poured casts out of a record: each from where it was written down, for the casts that are asked for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.mass import Mass
from station.core.material import FoamFacts
from station.insight.facts import CastFacts, Hardness
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.store.older import made_older
from tests.store.stories import G, Story

READ = HardnessScale.SHORE_00


def judged(story: Story, number: int, verdict: Verdict, *defects: Defect) -> None:
    story.tell(ev.PartWeighed(number, G("270"), True, "page"), 60)
    story.tell(ev.Judged(number, verdict, defects, "", "page"), 20)


def with_cavity(story: Story, mold: dict[int, str] | None = None) -> Story:
    """The same casts with a cavity of 675 cm³, a foam of 0.32 g/cm³ free rise, and some with another mold."""

    def changed(event: ev.Event) -> ev.Event:
        if not isinstance(event, ev.CastBegun):
            return event
        plan, key = event.plan, (mold or {}).get(event.number, event.plan.mold.key)
        foam = replace(plan.material, foam=FoamFacts(free_rise_density=0.32))
        return replace(event, plan=replace(plan, material=foam, mold=replace(plan.mold, key=key, cavity_cm3=675.0)))

    story.entries = [replace(entry, event=changed(entry.event)) for entry in story.entries]
    return story


def facts(folder: Path, story: Story, **asked: object) -> tuple[CastFacts, ...]:
    with SqlLedger(folder) as ledger, Archive(ledger.place) as archive:
        ledger.write(story.entries)
        return archive.facts(**asked)  # type: ignore[arg-type]


def test_a_judged_cast_has_all_its_facts(tmp_path: Path) -> None:
    """299.3 g mixed, 4.2 g stayed in the cup; a part of 270 g in 675 cm³ is 0.4 g/cm³, 1.25 times free rise."""
    story = Story()
    story.whole_cast(1)
    story.tell(ev.MixCupWeighed(1, "B", G("4.2"), G("299.3"), G(1000)), 20)
    soft = Defect(DefectKind.SOFT_SPOT, Severity.CLEAR, "heel")
    judged(story, 1, Verdict.SCRAP)
    judged(story, 1, Verdict.USABLE, soft, Defect(DefectKind.FLASH, Severity.SLIGHT))
    story.tell(ev.HardnessRead(1, 1, READ, 41.0, "toe", 3600.0, "page"), 5)
    story.tell(ev.HardnessRead(1, 2, READ, 44.0, "heel", None, "page"), 5)
    story.tell(ev.HardnessWithdrawn(1, 1, "page"), 5)
    story.tell(ev.ShrinkageMeasured(1, 300.0, 290.0, "length", "page"), 5)
    story.tell(ev.ShrinkageMeasured(1, 300.0, 297.0, "length", "page"), 5)
    story.tell(ev.ShrinkageMeasured(1, 100.0, 98.0, "width", "page"), 5)
    begun = story.entries[0].at.wall
    (fact,) = facts(tmp_path, with_cavity(story))
    assert (fact.number, fact.begun) == (1, begun)
    assert (fact.mold, fact.mold_title, fact.material, fact.material_title) == (
        *("seat-pad", "Kayak seat pad"),
        *("seat-foam", "Seat foam"),
    )
    assert fact.lots == (("A", "A-0417"), ("B", "B-0093"))
    assert fact.mixed_g == pytest.approx(299.3)
    assert fact.shot_g == pytest.approx(295.1)
    assert fact.planned_g == 300
    assert fact.ratio_error == pytest.approx(112.1 / 187.2 / 0.6 - 1, abs=1e-9)
    assert (fact.mix_s, fact.contact_to_pour_s, fact.temperature_c, fact.humidity_percent) == (17, 31, 21.5, 48.0)
    assert (fact.mold_shot, fact.pause_days) == (1, None)
    assert (fact.part_g, fact.trimmed) == (270, True)
    assert fact.density_g_cm3 == pytest.approx(0.4)
    assert fact.packing_factor == pytest.approx(1.25)
    assert fact.hardness == (Hardness(READ, 44.0, "heel"),)
    assert fact.shrinkage == pytest.approx((0.01 + 0.02) / 2)
    assert fact.verdict is Verdict.USABLE
    assert fact.defects == (soft, Defect(DefectKind.FLASH, Severity.SLIGHT))


def test_what_nobody_told_is_unknown(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    (fact,) = facts(tmp_path, story)
    unknown = (fact.shot_g, fact.part_g, fact.trimmed, fact.density_g_cm3, fact.packing_factor, fact.shrinkage)
    assert unknown == (None,) * 6
    assert (fact.verdict, fact.defects, fact.hardness) == (None, (), ())


def test_a_verdict_that_was_withdrawn_is_none(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    judged(story, 1, Verdict.SCRAP, Defect(DefectKind.VOID, Severity.SPOILT))
    story.tell(ev.VerdictWithdrawn(1, "page"), 5)
    story.tell(ev.PartMassWithdrawn(1, "page"), 5)
    (fact,) = facts(tmp_path, story)
    assert (fact.verdict, fact.defects, fact.part_g) == (None, (), None)


def several(folder: Path, **asked: object) -> list[int]:
    story = Story()
    for number in range(1, 7):
        story.whole_cast(number)
    molds = {2: "grip", 4: "grip", 6: "grip"}
    return [fact.number for fact in facts(folder, with_cavity(story, molds), **asked)]


def test_the_newest_are_given_the_oldest_of_them_first(tmp_path: Path) -> None:
    assert several(tmp_path / "a") == [1, 2, 3, 4, 5, 6]
    assert several(tmp_path / "b", last=2) == [5, 6]
    assert several(tmp_path / "c", last=2, mold="grip") == [4, 6]
    assert several(tmp_path / "d", mold="grip", material="seat-foam") == [2, 4, 6]
    assert several(tmp_path / "e", material="none") == []


def test_days_bound_when_a_cast_was_begun(tmp_path: Path) -> None:
    story = Story()
    for number in range(1, 4):
        story.whole_cast(number)
    second = next(e.at.wall for e in story.entries if isinstance(e.event, ev.CastBegun) and e.event.number == 2)
    assert [fact.number for fact in facts(tmp_path, story, since=second)] == [2, 3]
    with Archive(tmp_path / "record.db") as archive:
        assert [fact.number for fact in archive.facts(until=second)] == [1]
        assert archive.facts(since=second, until=second) == ()


def test_the_pause_is_that_since_the_pour_before_in_whatever_mold(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    story.clock.advance(3 * 86_400)
    story.weigh_both(2)
    story.tell(ev.BatchLost(2, "too much B"), 5)
    story.whole_cast(3)
    with_cavity(story, {1: "grip"})
    begun = {e.event.number: e.at.wall for e in story.entries if isinstance(e.event, ev.CastBegun)}
    first, third = facts(tmp_path, story)
    assert first.pause_days is None
    assert third.pause_days == pytest.approx((begun[3] - begun[1]).total_seconds() / 86_400)
    assert third.pause_days > 3
    assert (first.mold_shot, third.mold_shot) == (1, 1)
    assert third.mixed_g == pytest.approx(float(Mass.grams("299.3").g))


def test_shots_are_counted_from_where_release_agent_was_put_on(tmp_path: Path) -> None:
    story = Story()
    story.tell(ev.ReleaseApplied("grip", "page"), 5)
    for number in range(1, 7):
        story.whole_cast(number)
        if number == 3:
            story.tell(ev.ReleaseApplied("seat-pad", "page"), 5)
    found = facts(tmp_path, with_cavity(story, {2: "grip", 4: "grip"}))
    assert [(one.mold, one.mold_shot, one.shots_since_release) for one in found] == [
        ("seat-pad", 1, None),
        ("grip", 1, 1),
        ("seat-pad", 2, None),
        ("grip", 2, 2),
        ("seat-pad", 3, 1),
        ("seat-pad", 4, 2),
    ]
    made_older(tmp_path / "record.db", "0005")
    with SqlLedger(tmp_path), Archive(tmp_path / "record.db") as archive:
        assert archive.facts() == found
