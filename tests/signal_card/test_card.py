"""The card at the bench: every tone that is played stands on it once, as it is played, with all that it may mean."""

from __future__ import annotations

from gettext import GNUTranslations
from importlib.resources import files
from pathlib import Path

import pytest

from station.config import SignalSettings
from station.core.cues import Cue, Urgency
from station.core.lamps import LIT
from station.drawing.marks import Box, Drawing, Ink
from station.drawing.svg import svg
from station.settings import read_settings
from station.signal_card.contents import Card, card
from station.signal_card.listed import listed
from station.signal_card.sheet import drawn, wrapped
from station.signal_card.tones import alarm_tones, cue_tones, rhythm
from station.signals.patterns import ALARMS, CUES, DOOR, long, short
from tests.wiring import sheet
from tests.words.speaking import spoken

ROOT = Path(__file__).resolve().parents[2]
ALL = SignalSettings(tone=12)
BARE = SignalSettings(None, None, None, None, None, None, None, speech=False)


def example() -> Card:
    settings = read_settings(ROOT / "station" / "examples" / "station.toml")
    return card(settings.name, settings.signals)


def test_every_cue_stands_on_the_card_beside_the_pattern_that_is_played_for_it():
    tones = {tone.pattern: tone.meanings for tone in cue_tones()}
    assert {cue.value for cue in Cue} <= {meaning for meanings in tones.values() for meaning in meanings}
    for cue in Cue:
        assert cue.value in tones[CUES[cue]]
    assert set(tones) == {*CUES.values(), DOOR}


def test_another_table_of_patterns_gives_another_card():
    changed = {**CUES, Cue.STOP: long(5)}
    assert [tone.meanings for tone in cue_tones(changed) if tone.pattern == long(5)] == [(Cue.STOP.value,)]
    assert not any(Cue.STOP.value in tone.meanings for tone in cue_tones(changed) if tone.pattern == CUES[Cue.STOP])


def test_every_alarm_that_sounds_stands_on_the_card():
    assert [tone.pattern for tone in alarm_tones()] == [ALARMS[Urgency.FIRST], ALARMS[Urgency.STRONG]]


def boxes(drawing: Drawing) -> list[tuple[float, float, float]]:
    """Each drawn pulse: its row, where it begins, how wide it is."""
    pulses = [mark for mark in drawing.marks if isinstance(mark, Box) and mark.ink is Ink.FILL]
    return [(pulse.y, pulse.x, pulse.width) for pulse in pulses]


def test_the_rhythms_are_drawn_as_they_are_played_all_to_one_scale():
    made = card("Bench", ALL)
    tones = [*made.tones, *made.alarms]
    drawn_rows: dict[float, list[tuple[float, float]]] = {}
    for y, x, width in boxes(drawn(made)):
        drawn_rows.setdefault(y, []).append((x, width))
    assert len(drawn_rows) == len(tones)
    begin = min(x for row in drawn_rows.values() for x, _ in row)
    second = drawn_rows[min(drawn_rows)][0][1] / tones[0].pattern[0][0]
    for row, tone in zip(drawn_rows.values(), tones, strict=True):
        at, wanted = 0.0, []
        for on, off in tone.pattern:
            wanted.append((begin + second * at, second * on))
            at += on + off
        assert row == [pytest.approx(pulse) for pulse in wanted]


@pytest.mark.parametrize(
    ("pattern", "words"),
    [
        (short(1), "1 short"),
        (long(4), "4 long"),
        ((*short(2), *long(1)), "2 short, 1 long"),
        ((*long(1), *short(1), *long(1)), "1 long, 1 short, 1 long"),
        (ALARMS[Urgency.STRONG], "10 short"),
    ],
)
def test_a_rhythm_in_words(pattern, words):
    assert rhythm(pattern) == words


def test_only_what_is_fitted_stands_on_the_card():
    full, bare = card("Bench", ALL), card("Bench", BARE)
    assert len(full.lamps) == len(LIT)
    assert len(full.presses) == 3
    assert not any((bare.tones, bare.alarms, bare.pours, bare.lamps, bare.presses))
    assert "spoken" in full.last
    assert "spoken" not in bare.last
    assert "higher" in full.pours[0].words
    assert "higher" not in card("Bench", SignalSettings()).pours[0].words
    pedal_alone = card("Bench", SignalSettings(button=None, long_press_s=1.5))
    assert [one.name for one in pedal_alone.presses] == ["short press", "long press, 1.5 s"]


def legible(made: Card) -> None:
    drawing = drawn(made)
    assert sheet.overlaps(drawing) == []
    assert sheet.outside(drawing) == []
    assert sheet.struck(drawing, ()) == []


@pytest.mark.parametrize("signals", [ALL, SignalSettings(), BARE])
def test_no_label_lies_on_another_or_outside_the_sheet(signals):
    legible(card("A bench by the window", signals))


def test_in_german_it_is_as_legible_and_says_the_same():
    catalogue = files("station") / "locale" / "de" / "station.mo"
    with catalogue.open("rb") as opened, spoken(GNUTranslations(opened), "de"):
        made = card("Platz am Fenster", ALL)
        legible(made)
        assert "Topfzeit" in svg(drawn(made))
        assert len(made.tones) == len(cue_tones())


def test_it_is_a_sheet_of_a4_standing():
    drawing = drawn(example())
    assert drawing.mm_per_unit is not None
    assert (drawing.width * drawing.mm_per_unit, drawing.height * drawing.mm_per_unit) == (210, 297)


def test_the_card_in_the_tree_is_that_of_the_example_settings():
    kept = (ROOT / "hardware" / "card.svg").read_text("utf-8")
    assert kept == svg(drawn(example()), standalone=True) + "\n", "write it again: tarebell card --page"


def test_the_listed_card_says_what_the_drawn_one_does():
    made = example()
    text = "\n".join(listed(made))
    for tone in (*made.tones, *made.alarms):
        assert rhythm(tone.pattern) in text
        assert all(meaning in text for meaning in tone.meanings)
    for line in (*made.pours, *made.lamps, *made.presses):
        assert line.name in text
        assert line.words in text
    assert made.last in text


def test_wrapped_words_are_all_there_and_a_long_one_stands_alone():
    text = "a bench that says what it means and means whatitsayswithoutanyspaceinit truly"
    lines = wrapped(text, 120, 12)
    assert " ".join(lines) == text
    assert "whatitsayswithoutanyspaceinit" in lines
