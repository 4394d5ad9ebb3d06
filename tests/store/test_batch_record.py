"""The batch record on paper."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.core import events as ev
from station.core.clocks import ClockKind
from station.records import When
from station.store.batch_record import as_dict, as_text, span_text, when_text
from tests.store.stories import Story
from tests.store.test_archive import recorded


def test_the_text_tells_the_whole_cast_in_order(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    text = as_text(recorded(tmp_path, story))
    assert text.startswith("Cast 1: Seat foam in Kayak seat pad\n  demolded\n")
    expected = [
        "begun          2026-03-02 09:00:05 by page",
        "mixed for 17 s",
        "31 s after first contact, pot life 50 s",
        "21 min 55 s after the pour",
        "temperature    21.5 °C",
        "planned 300.0 g, in the mix 299.3 g",
        "two cups: the pot life is shorter than weighing takes",
        "A              planned 189.4 g, weighed 190.0 g, target 189.4 g, window 185.7 g … 193.1 g",
        "error +0.32 %   lot A-0417",
        "187.2 g in the mix (mass gained while combining)",
        "sheet          A 100 : B 60 by weight, by weight A 100.00 : B 60.00",
        "mixed          A 100.00 : B 59.88",
        "error          B -0.20 %",
        "A into A: 190.0 g for 189.4 g (185.7 g … 193.1 g)",
        "demold: acknowledged by button after 25 s",
        "The mold was cold last time.",
        "Fills the corner well. (page)",
    ]
    places = [text.index(line) for line in expected]
    assert places == sorted(places)
    assert "Missed" not in text
    assert "Overshoots" not in text


def test_the_text_of_a_cast_at_its_beginning_claims_nothing(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    del story.entries[1:]
    text = as_text(recorded(tmp_path, story))
    assert "A              planned 189.4 g, nothing accepted   lot A-0417" in text
    assert "mixed          not yet complete" in text
    assert "poured" not in text


def test_what_was_missed_is_told(tmp_path: Path) -> None:
    story = Story()
    story.weigh_both(1)
    story.combine(1)
    story.tell(ev.AlarmRaised(1, ClockKind.POUR_BY, 0.1, "pour now"), 32)
    story.tell(ev.BatchLost(1, "the mix set in the cup"), 200)
    text = as_text(recorded(tmp_path, story))
    assert "batch lost: the mix set in the cup" in text
    assert "pour by: ended by what was done next, after 3 min 20 s" in text
    assert "\nMissed\n  pour by: answered after 200 s\n" in text


def test_the_dictionary_is_json_with_exact_masses(tmp_path: Path) -> None:
    story = Story()
    story.whole_cast(1)
    record = recorded(tmp_path, story)
    content = json.loads(json.dumps(as_dict(record), allow_nan=False))
    assert content["number"] == 1
    assert content["ingredients"][0]["actual"] == 190_000
    assert content["stage"] == "demolded"
    assert content["course"]["begun"] == {"wall": "2026-03-02T09:00:05+00:00", "sure": True}
    assert content["course"]["contact_to_poured_s"] == pytest.approx(31)
    assert content["alarms"][0]["clock"] == "demold"


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (None, "unknown time"),
        (0.4, "0 s"),
        (119, "119 s"),
        (125, "2 min 5 s"),
        (7260, "2 h 1 min"),
        (86_400, "24 h 0 min"),
    ],
)
def test_spans_are_told_in_units_of_their_size(seconds: float | None, text: str) -> None:
    assert span_text(seconds) == text


def test_a_wall_time_that_was_never_proved_is_told_so() -> None:
    at = datetime(2026, 3, 2, 9, tzinfo=UTC)
    assert when_text(When(at, True)) == "2026-03-02 09:00:00"
    assert when_text(When(at, False)) == "2026-03-02 09:00:00 (clock not trusted)"
    assert when_text(None) == "-"
