"""`tarebell insight` on a record of a few casts: sentences for people, full precision for programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core.judging_events import Defect, DefectKind, Severity, Verdict
from station.store.ledger import SqlLedger
from tests.store.stories import Story
from tests.store.test_facts import judged, with_cavity


@pytest.fixture(scope="module")
def state(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("state")
    story = Story()
    for number in range(1, 7):
        story.weigh_both(number, b=f"{111.8 + 0.1 * (number % 3):.1f}")
        story.combine(number)
        story.mix_and_pour(number, mix_s=16.0 + number % 2)
        story.cure_and_demold(number)
        if number < 3:
            judged(story, number, Verdict.GOOD)
    judged(story, 3, Verdict.SCRAP, Defect(DefectKind.VOID, Severity.SPOILT))
    with SqlLedger(folder) as ledger:
        ledger.write(with_cavity(story).entries)
    return folder


def asked(state: Path, *words: str) -> str:
    run = CliRunner().invoke(main, ["insight", "--state", str(state), *words])
    assert run.exit_code == 0, run.output
    return run.output


def test_the_newest_casts_are_compared_in_sentences(state: Path) -> None:
    said = asked(state, "--figure", "mix", "--low", "10", "--high", "20")
    assert said.startswith("mix time:")
    assert "None of the 6 casts is marked." in said
    assert "6 casts are few" in said
    assert "0 casts of 6 lie outside." in said
    assert "Cpk = " in said
    assert "Good: 2 of 3: 67 % (with 95 % confidence 21 to 94 %)" in said
    assert "void: 1 of 3" in said


def test_programs_get_the_same_as_the_api_gives(state: Path) -> None:
    told = json.loads(asked(state, "--figure", "mix", "--json"))
    assert [one["value"] for one in told["values"]] == [17.0, 16.0, 17.0, 16.0, 17.0, 16.0]
    assert told["limits"]["range_mean"] == 1.0
    assert told["defects"][0]["kind"] == "VOID"


def test_where_nothing_fits_it_says_so(state: Path) -> None:
    assert asked(state, "--mold", "nowhere") == "No poured cast fits all of this.\n"


def test_limits_the_wrong_way_round_are_a_sentence(state: Path) -> None:
    run = CliRunner().invoke(main, ["insight", "--state", str(state), "--low", "2", "--high", "1"])
    assert run.exit_code == 1
    assert "must lie below the highest" in run.output


def test_without_a_record_it_says_what_to_do(tmp_path: Path) -> None:
    run = CliRunner().invoke(main, ["insight", "--state", str(tmp_path)])
    assert run.exit_code == 1
    assert "There is no record" in run.output
