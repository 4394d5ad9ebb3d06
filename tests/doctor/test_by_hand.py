"""What a person tells: asked for with the station's own panel on mock pins, and never while a station runs."""

import threading
from contextlib import contextmanager
from functools import partial

import pytest

from station.clock import SystemClock
from station.core.messages import Press, Pressed
from station.doctor import by_hand
from station.doctor.finding import Verdict
from station.doctor.life import Life
from station.doctor.titles import TITLES
from station.errors import SignalFault
from station.signals.panel import Panel
from station.texts import t
from tests.signals.listening import WatchedFactory

PARTS = "[signals]\nspeech = false\n"


class Somebody:
    """Says yes or no to every question, having listened first; `does` is what is done when there is no question."""

    def __init__(self, answer=True, does=lambda: None, listens=lambda: None):
        self.answer, self.does, self.listens, self.questions, self.words = answer, does, listens, [], []

    def asked(self, question):
        self.questions.append(question)
        self.listens()
        return self.answer

    def told(self, words):
        self.words.append(words)
        self.does()


class Bench:
    """Mock pins, and a pedal and a button that can be pressed."""

    def __init__(self):
        self.pins = WatchedFactory()
        self.clock = SystemClock()

    @contextmanager
    def fit(self, settings, press):
        with Panel(settings, press, self.clock, self.pins) as panel:
            yield panel

    def press(self, pin):
        """A short press by foot or hand: down, and up once the bouncing is over."""
        contact = self.pins.pin(pin)
        contact.drive_low()
        threading.Event().wait(0.1)
        contact.drive_high()


def tried(ward, bench, person, life=Life.STOPPED):
    patient = ward.patient(life)
    fit = partial(bench.fit, patient.settings.signals)
    return {one.key: one for one in by_hand.tried_by_hand(patient, person, fit, bench.clock)}


@pytest.fixture
def bench():
    return Bench()


def verdict(one):
    return [finding.verdict for finding in one.findings]


def test_a_bench_on_which_everything_works_passes(ward, bench):
    ward.settings(PARTS)
    pins = iter((27, 5))

    def heard():
        """The buzzer sounds by a thread of its own."""
        assert bench.pins.wait_until(lambda: True in bench.pins.states(17))

    person = Somebody(True, lambda: bench.press(next(pins)), heard)
    found = tried(ward, bench, person)
    assert list(found) == ["buzzer", "lamps", "pedal", "button"]
    assert {key: verdict(one) for key, one in found.items()} == {
        "buzzer": [Verdict.PASS],
        "lamps": [Verdict.PASS] * 3,
        "pedal": [Verdict.PASS],
        "button": [Verdict.PASS],
    }
    assert True in bench.pins.states(17)
    for lamp in (22, 23, 24):
        assert bench.pins.states(lamp)[-2:] == [True, False]
    assert "A short press arrived." in found["pedal"].findings[0].told


def test_what_is_not_heard_and_not_seen_fails_with_a_cure(ward, bench):
    ward.settings(PARTS + 'pedal = "none"\nbutton = "none"\n')
    found = tried(ward, bench, Somebody(False))
    assert list(found) == ["buzzer", "lamps"]
    for one in found.values():
        assert all(finding.verdict is Verdict.FAIL and finding.cure for finding in one.findings)


def test_nobodys_answer_is_no_verdict(ward, bench):
    ward.settings(PARTS + 'pedal = "none"\nbutton = "none"\n')
    found = tried(ward, bench, Somebody(None))
    assert {finding.verdict for one in found.values() for finding in one.findings} == {Verdict.LOOK}


def test_a_pedal_that_nobody_presses_fails_and_the_button_does_not_count_for_it(ward, bench, monkeypatch):
    monkeypatch.setattr(by_hand, "PRESS_WITHIN_S", 0.4)
    ward.settings(PARTS + 'buzzer = "none"\nlamp_ready = "none"\nlamp_busy = "none"\nlamp_attention = "none"\n')
    patient = ward.patient()
    presses = []

    @contextmanager
    def fit(press):
        presses.append(press)
        with bench.fit(patient.settings.signals, press) as panel:
            yield panel

    person = Somebody(does=lambda: presses[0](Pressed(Press.SHORT, "button")))
    found = {one.key: one for one in by_hand.tried_by_hand(patient, person, fit, bench.clock)}
    assert verdict(found["pedal"]) == [Verdict.FAIL]
    assert "GPIO 27" in found["pedal"].findings[0].cure
    assert verdict(found["button"]) == [Verdict.PASS]


def test_a_long_press_is_told_as_one(ward, bench):
    ward.settings(PARTS + 'button = "none"\n')
    patient = ward.patient()

    @contextmanager
    def fit(press):
        with Panel(patient.settings.signals, press, bench.clock, bench.pins) as panel:
            press(Pressed(Press.LONG, "pedal"))
            yield panel

    found = {one.key: one for one in by_hand.tried_by_hand(patient, Somebody(), fit, bench.clock)}
    assert found["pedal"].findings[0].told == "A long press arrived."


@pytest.mark.parametrize("life", [Life.RUNS, Life.UNKNOWN])
def test_the_pins_are_left_alone_while_a_station_runs_or_may_run(ward, bench, life):
    person = Somebody()
    found = tried(ward, bench, person, life)
    assert verdict(found["by-hand"]) == [Verdict.LOOK]
    assert found["by-hand"].findings[0].cure
    assert person.questions == person.words == []
    assert bench.pins.pins == {}


def test_without_anybody_to_ask_the_pins_are_left_alone(ward, bench):
    found = tried(ward, bench, None)
    assert "nobody was asked" in found["by-hand"].findings[0].told
    assert bench.pins.pins == {}


def test_simulated_pins_are_not_tried(ward, bench):
    patient, person = ward.patient(), Somebody()
    found = list(
        by_hand.tried_by_hand(patient, person, partial(Panel, patient.settings.signals, clock=bench.clock), bench.clock)
    )
    assert "No GPIO on this machine" in found[0].findings[0].told
    assert person.questions == []


@pytest.mark.parametrize("error", [SignalFault("GPIO 17 cannot be used."), RuntimeError("GPIO busy")])
def test_pins_that_cannot_be_had_fail_in_a_sentence(ward, bench, error):
    @contextmanager
    def fit(_press):
        raise error
        yield

    (found,) = by_hand.tried_by_hand(ward.patient(), Somebody(), fit, bench.clock)
    assert found.findings[0].verdict is Verdict.FAIL
    assert "GPIO" in found.findings[0].told


def test_without_settings_there_is_nothing_to_try(ward, bench):
    ward.config.write_text("nonsense")
    assert list(by_hand.tried_by_hand(ward.patient(), Somebody(), bench.fit, bench.clock)) == []


def test_every_title_fits_its_column():
    assert max(len(t(title)) for title in TITLES) <= 12
