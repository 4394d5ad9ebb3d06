"""`tarebell lot`: from the number on a container to the parts that contain it, for people and for programs."""

import json

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core import events as ev
from station.store.ledger import SqlLedger
from tests.store.stories import Story


@pytest.fixture
def state(tmp_path):
    story = Story()
    for number in (1, 2, 3):
        story.whole_cast(number, lot="A-0555" if number == 2 else "A-0417")
    story.tell(ev.Aborted(4, "never begun", "page"))
    with SqlLedger(tmp_path) as ledger:
        ledger.write(story.entries)
    return tmp_path


def said(state, *words):
    return CliRunner().invoke(main, ["lot", *words, "--state", str(state)])


def test_the_parts_that_contain_a_lot_are_listed(state):
    answer = said(state, "A-0417")
    assert answer.exit_code == 0
    lines = answer.output.splitlines()
    assert [line.split()[0] for line in lines[:2]] == ["3", "1"]
    assert lines[0].endswith("190.0 g  Kayak seat pad, Seat foam: demolded, not judged")
    assert lines[2:] == ["2 casts contain it: 380.0 g in all.", "Set aside the parts of the 2 casts 1, 3."]
    assert "1 cast contains it" in said(state, "A-0417", "--before", "3").output


def test_programs_read_it_as_json(state):
    told = json.loads(said(state, "A-0555", "--json").output)
    assert [(cast["number"], cast["taken_mg"], cast["set_aside"]) for cast in told["casts"]] == [(2, 190000, True)]


def test_a_lot_that_the_record_does_not_know_is_told_in_a_sentence(state):
    answer = said(state, "A-0418")
    assert answer.exit_code != 0
    assert "No cast was begun with a lot A-0418" in answer.output
    assert "Read the number on the container again" in answer.output
