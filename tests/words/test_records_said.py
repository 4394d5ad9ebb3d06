"""A cast's record is said in the station's language wherever a person reads it; its JSON stays English."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.steps import Weigh
from station.languages import begin_to_speak
from station.phone.cast_view import CastView, cast_view
from station.phone.log_view import LogBook
from station.records import BatchRecord
from station.store.batch_record import as_dict, as_text
from station.testing import ScriptedClock
from tests.store.stories import TWO_CUP_STEPS, G, Story
from tests.store.test_archive import recorded
from tests.words.speaking import BEGIN, Marked, spoken
from tests.words.unsaid import unsaid

TOLD = (
    *("Seat foam", "Kayak seat pad", "the pot life is shorter than weighing takes", "The mold was cold last time."),
    *(
        "A-0417",
        "B-0093",
        "Fills the corner well.",
        "the lid does not close",
        "3.5 g too much B",
        "the heel",
        "a1b2.jpg",
    ),
)
"""Names, and what people and the bench have written into the journal: data, in whatever language it came."""


def troubled(clock: ScriptedClock | None = None) -> Story:
    """A cast in which whatever a record can tell of has happened."""
    clock = clock or ScriptedClock()
    story = Story(clock)
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.weigh_both(1, b="116.0")
    top_up = Weigh("A", "A", G("5.9"), G("2.2"), G("9.6"), already=G("190.0"))
    steps = (*TWO_CUP_STEPS[:4], top_up, *TWO_CUP_STEPS[4:])
    story.tell(ev.Recomputed(1, "B", G("116"), G("3.5"), G("309.3"), steps, "3.5 g too much B"), 1)
    story.tell(ev.Accepted(1, 4, "A", "A", G("6.1"), G("5.9"), G("2.2"), G("9.6"), G("208.4")), 20)
    story.tell(ev.Reopened(1, 3, "B", G("126.9")), 2)
    story.tell(ev.Accepted(1, 3, "B", "B", G("112.9"), G("112.5"), G("110.3"), G("114.7"), G("126.9")), 4)
    story.tell(ev.Paused(1, "pedal"), 3)
    story.tell(ev.Resumed(1, "pedal"), 3)
    story.tell(ev.PhotoAdded(1, "a1b2", "0", "0", 1600, 1200, "the heel", "button"), 1)
    story.tell(ev.PhotoRemoved(1, "a1b2", "button"), 1)
    story.tell(ev.AlarmRaised(1, ClockKind.POT_LIFE, 3.0, "pot life is over"), 50)
    story.tell(ev.AlarmAcknowledged(1, ClockKind.POT_LIFE, "pedal", 61.0), 61)
    seen = clock.now()
    clock.reboot(1500, False)
    story.tell(ev.StationStarted(seen, "0.1.0"))
    story.tell(ev.AlarmRaised(1, ClockKind.DEMOLD, None, "fell due while off"), 1)
    story.tell(ev.Noted(1, "Fills the corner well.", "button"), 1)
    story.tell(ev.Aborted(1, "the lid does not close", "button"), 10)
    return story


def went_well() -> Story:
    story = Story()
    story.whole_cast(1)
    story.tell(ev.PhotoAdded(1, "a1b2", "0", "0", 1600, 1200, "", "button"), 1)
    return story


def page_of(record: BatchRecord) -> CastView:
    """What the page of a cast shows of a record without traces."""
    return cast_view(record, cast("LogBook", SimpleNamespace(trace=lambda *_: None)))


STORIES = [went_well, troubled]


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


@pytest.mark.parametrize("story", STORIES)
def test_every_word_on_paper_is_said_through_the_catalogue(tmp_path: Path, story):
    with spoken(Marked()):
        text = as_text(recorded(tmp_path, story()))
    # Components are called A and B, which no catalogue is asked for.
    assert {line: unsaid(line, list(TOLD)) for line in text.splitlines() if unsaid(line, list(TOLD))} == {}
    assert text.count(BEGIN) > 40


@pytest.mark.parametrize("story", STORIES)
def test_every_word_on_the_page_of_a_cast_is_said_through_the_catalogue(tmp_path: Path, story):
    with spoken(Marked()):
        view = page_of(recorded(tmp_path, story()))
    lines = [*view.course, *view.alarms, *view.presses, *view.events, *view.remarks]
    words = [view.stage, view.ending, *view.missed, *(one for fact in view.facts for one in fact)]
    words += [one for line in lines for one in (line.words, line.more)]
    words += [one for photo in view.photos for one in (photo.alt, photo.more)]
    words += [one for part in view.parts for one in (part.off, part.window, part.in_mix)]
    assert {one: unsaid(one, list(TOLD)) for one in words if unsaid(one, list(TOLD))} == {}
    assert len([one for one in words if BEGIN in one]) > 20


@pytest.mark.parametrize("story", STORIES)
def test_json_is_the_same_in_every_language(tmp_path: Path, story):
    english = json.dumps(as_dict(recorded(tmp_path / "one", story())))
    with spoken(Marked()):
        assert json.dumps(as_dict(recorded(tmp_path / "two", story()))) == english


def test_a_record_in_german(tmp_path: Path):
    record = recorded(tmp_path, troubled())
    begin_to_speak("de")
    text = as_text(record)
    for line in (
        "Guss 1: Seat foam in Kayak seat pad\n  aufgegeben: the lid does not close (von Knopf)",
        "Blatt          A 100 : B 60 nach Gewicht; als Gewicht A 100,00 : B 60,00",
        "Pedal",
        "Nach dem Annehmen kam noch B hinzu.",
        "Station zurück, unbekannte Zeit aus, zuletzt gesehen 2026-03-02 09:03:31",
        "vielleicht fällig geworden, während die Station aus war; wie lange, weiß niemand",
    ):
        assert line in text
