"""`tarebell insight differences` and `compare`, and the desk of the pages, on a record of a few judged casts."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.core.standing import Standing
from station.learning_desk import LearningDesk
from station.sheets import read_sheets
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from tests.play import FOAM, PLACE
from tests.store.stories import Story
from tests.store.test_facts import judged, with_cavity

SOFT = Defect(DefectKind.SOFT_SPOT, Severity.CLEAR)


@pytest.fixture(scope="module")
def state(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Eight casts: the three that were mixed for 12 s came out with soft spots, those mixed for 16 to 18 s did not."""
    folder = tmp_path_factory.mktemp("state")
    story = Story()
    for number in range(1, 9):
        soft = number in (2, 5, 7)
        story.weigh_both(number, b="111.8")
        story.combine(number)
        story.mix_and_pour(number, mix_s=12.0 if soft else 16.0 + number % 3)
        story.cure_and_demold(number)
        judged(story, number, Verdict.SCRAP if soft else Verdict.GOOD, *([SOFT] if soft else []))
    with SqlLedger(folder) as ledger:
        ledger.write(with_cavity(story).entries)
    return folder


@pytest.fixture
def desk(state: Path) -> Iterator[LearningDesk]:
    with Archive(state / "record.db") as archive:
        yield LearningDesk(archive, lambda: read_sheets(()), lambda: PLACE, Standing)


def asked(state: Path, *words: str, fails: bool = False) -> str:
    run = CliRunner().invoke(main, ["insight", words[0], "--state", str(state), *words[1:]])
    assert run.exit_code == (1 if fails else 0), run.output
    return run.output


def test_differences_are_told_in_sentences_the_surest_first(state: Path) -> None:
    said = asked(state, "differences", "--defect", "soft-spot").splitlines()
    assert said[0] == "3 of 8 judged casts: soft spot."
    # All three of 8 lie under the best cut: of 56 ways to choose three, one puts them lowest and one highest.
    assert "soft spot: 3 of 3 casts mixed under 16 s, 0 of 5 mixed longer" in said[1]
    assert not said[1].startswith("●")


def test_programs_get_the_same_as_the_api_gives(state: Path) -> None:
    told = json.loads(asked(state, "differences", "--json"))
    assert told["looks"][0]["p"] == pytest.approx(2 / 56)
    assert told["looks"][0]["sides"][0] == {"words": "mixed under 16 s", "bad": 3, "of": 3}


def test_two_casts_are_told_side_by_side(state: Path) -> None:
    assert "mix time: 12 s | 16 s" in asked(state, "compare", "2", "3")
    assert "no poured cast among the newest 8" in asked(state, "compare", "2", "90", fails=True)


def test_what_cannot_be_answered_is_a_sentence(state: Path) -> None:
    assert "There is no such defect here. Known: short_shot" in asked(
        state, "differences", "--defect", "luck", fails=True
    )
    assert "too few to compare" in asked(state, "differences", "--defect", "tear", fails=True)


def test_the_desk_joins_record_sheets_and_bench(desk: LearningDesk) -> None:
    assert [one.number for one in desk.facts(last=3)] == [6, 7, 8]
    assert desk.facts(mold="nowhere") == ()
    assert [one.title for one in desk.known_molds()]
    assert [one.title for one in desk.known_materials()]
    assert "example-foam" in [sheet.key for sheet in desk.materials()]
    assert [sheet.key for sheet in desk.molds()]
    assert (desk.adopted(), desk.trials(), desk.celsius(), desk.known(FOAM)) == ((), (), None, ())
