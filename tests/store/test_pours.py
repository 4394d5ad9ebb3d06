"""The table of pours: what it says is what the sheet of the cast says, and it can be made again at any time."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core import events as ev
from station.core.events import Entry
from station.core.material import FoamFacts
from station.core.steps import Mix, Pour
from station.store.archive import Archive
from station.store.engines import open_writer
from station.store.ledger import SqlLedger
from station.store.projection import rebuild
from tests.store.disk import opened, tables, without_guards
from tests.store.older import made_older
from tests.store.stories import G, Story, a_day, foam_plan
from tests.store.strategies import MOMENTS, of, spaced


def pours(folder: Path) -> list[dict[str, Any]]:
    with opened(folder / "record.db") as db:
        cursor = db.execute("SELECT * FROM pours ORDER BY number")
        names = [column[0] for column in cursor.description]
        return [dict(zip(names, row, strict=True)) for row in cursor]


def written(folder: Path, story: Story) -> list[dict[str, Any]]:
    with SqlLedger(folder) as ledger:
        for entry in story.entries:
            ledger.write([entry])
    return pours(folder)


def test_a_pour_says_what_the_sheet_of_its_cast_says(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    (row,) = written(tmp_path, story)
    with Archive(tmp_path / "record.db") as archive:
        record = archive.record(1)
    assert record is not None
    assert row["mixed_mg"] == record.actual_total.mg
    assert row["planned_mg"] == record.planned_total.mg
    assert row["mix_s"] == record.course.mix_s == 17
    assert row["contact_s"] == record.course.contact_to_poured_s == 31
    assert row["ratio_error"] * 100 == pytest.approx(record.ratio[1].error_percent)
    assert (row["temperature_c"], row["humidity_percent"]) == (21.5, 48.0)
    assert json.loads(row["lots"]) == [["A", "A-0417"], ["B", "B-0093"]]
    assert (row["mold_key"], row["material_key"]) == ("seat-pad", "seat-foam")
    assert (row["left_mg"], row["cavity_cm3"], row["free_rise"]) == (None, None, None)


@pytest.mark.parametrize(("density", "expansion"), [(0.0, 4.0), (1.1, 0.5), (-1.0, 4.0)])
def test_a_plan_that_says_what_no_foam_has_is_written_down_without_it(
    tmp_path: Path, density: float, expansion: float
) -> None:
    plan = foam_plan()
    foam = FoamFacts(expansion=expansion)
    odd = replace(plan, material=replace(plan.material, density=density, foam=foam), steps=(Mix(1.0), Pour()))
    story = Story()
    story.tell(ev.CastBegun(1, odd, "page"))
    story.tell(ev.StepDone(1, 0, "page"))
    story.tell(ev.StepDone(1, 1, "page"))
    (row,) = written(tmp_path, story)
    assert row["free_rise"] is None


def test_the_ratio_that_counts_is_b_to_a(tmp_path: Path) -> None:
    """187.2 g A arrived and 112.1 g B: (112.1 / 187.2) / (0.375 / 0.625) - 1 = -0.001959."""
    story = Story()
    story.whole_cast(1)
    (row,) = written(tmp_path, story)
    assert row["ratio_error"] == pytest.approx(112.1 / 187.2 / 0.6 - 1, abs=1e-9)


def test_a_cast_that_was_never_poured_has_no_row_and_counts_for_no_mold(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.tell(ev.BatchLost(1, "too much B"), 5)
    story.whole_cast(2)
    assert [(row["number"], row["mold_shot"], row["before"]) for row in written(tmp_path, story)] == [(2, 1, None)]


def test_shots_are_counted_by_mold_and_the_pour_before_is_that_of_any(tmp_path: Path) -> None:
    story = Story()
    for number in (1, 2, 3):
        story.whole_cast(number)
    other = [
        replace(
            entry, event=replace(entry.event, plan=replace(foam_plan(), mold=replace(foam_plan().mold, key="grip")))
        )
        if isinstance(entry.event, ev.CastBegun) and entry.event.number == 2
        else entry
        for entry in story.entries
    ]
    story.entries = other
    rows = written(tmp_path, story)
    assert [(row["mold_key"], row["mold_shot"], row["before"]) for row in rows] == [
        ("seat-pad", 1, None),
        ("grip", 1, 1),
        ("seat-pad", 2, 2),
    ]


def test_what_stayed_in_the_cup_is_added_when_it_is_weighed(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1)
    (before,) = written(tmp_path / "a", story)
    story.tell(ev.MixCupWeighed(1, "B", G("4.2"), G("299.3"), G(1000)), 20)
    (after,) = written(tmp_path / "b", story)
    assert after == before | {"left_mg": 4200}


def test_an_emptied_cup_weighed_after_the_pour_changes_the_ratio(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1, gained=None)
    story.mix_and_pour(1)
    story.tell(ev.EmptiedCupWeighed(1, "A", "A", G("2.5"), G("190.0")), 60)
    (row,) = written(tmp_path, story)
    assert row["ratio_error"] == pytest.approx(112.1 / 187.5 / 0.6 - 1, abs=1e-9)


def test_the_time_in_the_mold_is_known_when_the_part_is_out_and_in_an_older_record_too(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.mix_and_pour(1)
    (before,) = written(tmp_path / "a", story)
    assert before["cure_s"] is None
    # Poured, then closed 12 s later.
    poured, closed = (one.at for one in story.entries[-2:] if isinstance(one.event, ev.StepDone))
    assert closed.boot_s - poured.boot_s == 12
    story.tell(ev.Demolded(1, "page"), 5400)
    (after,) = written(tmp_path / "b", story)
    assert after == before | {"cure_s": 5412.0}
    made_older(tmp_path / "b" / "record.db", "0005")
    SqlLedger(tmp_path / "b").close()
    assert pours(tmp_path / "b") == [after]


def test_an_older_record_has_its_pours_filled_in(tmp_path: Path) -> None:
    story = Story()
    for number in (1, 2):
        story.whole_cast(number)
    story.tell(ev.MixCupWeighed(2, "B", G("4.2"), G("299.3"), G(1000)), 20)
    rows = written(tmp_path, story)
    made_older(tmp_path / "record.db", "0005")
    SqlLedger(tmp_path).close()
    assert pours(tmp_path) == rows
    assert len(rows) == 2


def test_a_cast_that_cannot_be_read_is_left_out_of_an_older_record(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day(2))
    made_older(tmp_path / "record.db", "0005")
    with opened(tmp_path / "record.db") as db:
        without_guards(db)
        db.execute("UPDATE journal SET payload = '{}' WHERE cast_number = 1 AND kind = 'Accepted'")
    SqlLedger(tmp_path).close()
    assert [row["number"] for row in pours(tmp_path)] == [2]


PLANS = of(type(foam_plan())).map(lambda plan: replace(plan, steps=(Mix(1.0), Pour(), *plan.steps[:2])))
OF_ONE_CAST = st.one_of(
    *(of(kind) for kind in (ev.Accepted, ev.Combined, ev.EmptiedCupWeighed, ev.MixCupWeighed, ev.FirstContact)),
    st.builds(ev.StepDone, number=st.just(1), step=st.integers(-1, 4), by=st.just("page")),
    st.builds(ev.StepDone, number=st.just(1), step=st.just(1), by=st.just("page")),
).map(lambda event: replace(event, number=1))


@settings(max_examples=12, deadline=None)
@given(
    st.builds(Entry, event=PLANS.map(lambda plan: ev.CastBegun(1, plan, "page")), at=MOMENTS),
    st.lists(st.builds(Entry, event=OF_ONE_CAST, at=MOMENTS), min_size=1, max_size=8),
)
def test_whatever_was_poured_is_written_down_and_comes_out_the_same_again(
    tmp_path_factory: pytest.TempPathFactory, begun: Entry, more: list[Entry]
) -> None:
    folder = tmp_path_factory.mktemp("record")
    with SqlLedger(folder) as ledger:
        for entry in spaced([begun, *more]):
            ledger.write([entry])
    before = tables(folder / "record.db")
    engine = open_writer(folder / "record.db")
    try:
        rebuild(engine)
    finally:
        engine.dispose()
    assert tables(folder / "record.db") == before
    done = {entry.event.step for entry in more if isinstance(entry.event, ev.StepDone)}
    assert len(before["pours"]) == (1 if 1 in done else 0)
