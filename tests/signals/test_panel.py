"""Panel: cues, lamps, pedal and button on mock pins that record their states."""

from __future__ import annotations

import queue
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from gpiozero.pins.mock import MockFactory

from station.clock import SystemClock
from station.config import SignalSettings
from station.core.cues import Cue, Urgency
from station.core.messages import Press, Pressed
from station.errors import SignalFault
from station.ports import Signals
from station.signals.panel import Panel
from station.signals.patterns import CUES, DOOR, STOP_HZ, pitch_hz
from station.signals.pedal import HELD_S
from station.signals.pins import BROKEN_GPIO, NO_GPIO, pins
from station.testing import ScriptedClock
from tests.signals.listening import DEADLINE_S, WatchedFactory

BENCH = SignalSettings(tone=18, long_press_s=0.15, speech=False)
BUZZER, TONE, PEDAL, BUTTON = 17, 18, 27, 5


@pytest.fixture
def factory() -> Iterator[WatchedFactory]:
    factory = WatchedFactory()
    yield factory
    factory.close()


@pytest.fixture
def presses() -> queue.SimpleQueue[Pressed]:
    return queue.SimpleQueue()


@pytest.fixture
def panel(factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]) -> Iterator[Panel]:
    with Panel(BENCH, presses.put, SystemClock(), factory) as panel:
        yield panel


def test_a_panel_is_what_the_loop_calls_signals(panel: Panel) -> None:
    signals: Signals = panel
    signals.lamps(ready=False, busy=False, attention=False)
    assert panel.note == ""


@pytest.mark.parametrize("cue", [Cue.ACCEPTED, Cue.STOP, Cue.OVER, Cue.KEPT_IN_MEMORY])
def test_a_cue_is_heard_from_buzzer_and_tone_as_so_many_pulses(panel: Panel, factory: WatchedFactory, cue: Cue) -> None:
    pulses = [True, False] * len(CUES[cue])
    panel.cue(cue, "")
    assert factory.wait_until(lambda: factory.states(BUZZER) == pulses)
    assert factory.wait_until(lambda: factory.states(TONE) == pulses)


def test_the_pace_is_told_by_the_pitch_of_the_tone_and_the_stop_by_the_pitch_of_all_else(
    panel: Panel, factory: WatchedFactory
) -> None:
    panel.pace(1.0)
    assert factory.wait_until(lambda: factory.pin(TONE).frequency == pytest.approx(880.0))
    panel.pace(0.1)
    assert factory.wait_until(lambda: factory.pin(TONE).frequency == pytest.approx(pitch_hz(0.1)))
    panel.pace(None)
    panel.cue(Cue.STOP, "")
    assert factory.wait_until(lambda: factory.pin(TONE).frequency == pytest.approx(STOP_HZ))


def test_an_alarm_sounds_until_it_is_acknowledged(panel: Panel, factory: WatchedFactory) -> None:
    panel.hold(Urgency.STRONG)
    assert factory.wait_until(lambda: factory.states(BUZZER).count(True) >= 4)
    panel.hold(Urgency.CALM)
    assert factory.wait_until(lambda: not factory.pin(BUZZER).state)


def test_lamps_show_what_is_true_and_change_only_then(panel: Panel, factory: WatchedFactory) -> None:
    for _ in range(3):
        panel.lamps(ready=True, busy=False, attention=True)
    panel.lamps(ready=True, busy=True, attention=False)
    assert factory.states(BENCH.lamp_ready) == [True]
    assert factory.states(BENCH.lamp_busy) == [True]
    assert factory.states(BENCH.lamp_attention) == [True, False]


def test_closing_leaves_everything_dark_and_silent(
    factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]
) -> None:
    with Panel(BENCH, presses.put, SystemClock(), factory) as panel:
        panel.lamps(ready=True, busy=True, attention=True)
        panel.hold(Urgency.STRONG)
        panel.cue(Cue.LOST, "")
        assert factory.wait_until(lambda: factory.pin(BUZZER).state)
    lit = (BUZZER, TONE, BENCH.lamp_ready, BENCH.lamp_busy, BENCH.lamp_attention)
    assert [number for number in lit if factory.pin(number).state] == []


@pytest.mark.parametrize(("number", "by"), [(PEDAL, "pedal"), (BUTTON, "button")])
def test_pedal_and_button_post_short_presses_under_their_names(
    panel: Panel, factory: WatchedFactory, presses: queue.SimpleQueue[Pressed], number: int, by: str
) -> None:
    pin = factory.pin(number)
    for _ in range(3):  # a contact that bounces: it closes to ground
        pin.drive_low()
        pin.drive_high()
    assert presses.get(timeout=DEADLINE_S) == Pressed(Press.SHORT, by)


def test_a_long_press_of_the_pedal_is_posted_at_once_and_that_of_the_button_when_it_is_let_go(
    factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]
) -> None:
    clock = ScriptedClock()
    with Panel(BENCH, presses.put, clock, factory, lambda: None):
        factory.pin(PEDAL).drive_low()
        clock.advance(BENCH.long_press_s + 0.1)
        assert presses.get(timeout=DEADLINE_S) == Pressed(Press.LONG, "pedal")
        factory.pin(PEDAL).drive_high()
        factory.pin(BUTTON).drive_low()
        clock.advance(BENCH.long_press_s + 0.1)
        assert presses.empty()
        factory.pin(BUTTON).drive_high()
        assert presses.get(timeout=DEADLINE_S) == Pressed(Press.LONG, "button")


def test_the_button_held_for_ten_seconds_asks_for_the_door_and_sounds_and_the_pedal_never_does(
    factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]
) -> None:
    clock = ScriptedClock()
    held: queue.SimpleQueue[str] = queue.SimpleQueue()
    with Panel(BENCH, presses.put, clock, factory, lambda: held.put("held")):
        for number, by in ((PEDAL, "pedal"), (BUTTON, "button")):
            pin = factory.pin(number)
            pin.drive_low()
            clock.advance(HELD_S + 1)
            pin.drive_high()
            if number == PEDAL:
                assert presses.get(timeout=DEADLINE_S) == Pressed(Press.LONG, by)
        assert held.get(timeout=DEADLINE_S) == "held"
        assert factory.wait_until(lambda: factory.states(BUZZER) == [True, False] * len(DOOR))
    assert held.empty()
    assert presses.empty()


def test_what_is_not_fitted_is_left_alone(factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]) -> None:
    bare = SignalSettings(None, None, None, None, None, None, None, speech=False)
    with Panel(bare, presses.put, SystemClock(), factory) as panel:
        panel.lamps(ready=True, busy=True, attention=True)
        panel.hold(Urgency.STRONG)
        panel.cue(Cue.ACCEPTED, "accepted")
    assert factory.pins == {}


def test_two_things_on_one_pin_are_refused_with_both_names(
    factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]
) -> None:
    twice = Panel(replace(BENCH, button=BUZZER), presses.put, SystemClock(), factory)
    with pytest.raises(SignalFault, match="button and buzzer are both given GPIO 17") as fault, twice:
        pass
    assert "number of its own" in fault.value.sentence()


def test_a_pin_that_does_not_exist_is_named_and_what_was_opened_before_it_is_closed(
    factory: WatchedFactory, presses: queue.SimpleQueue[Pressed]
) -> None:
    with (
        pytest.raises(SignalFault, match=r"\[signals\] button: GPIO 99"),
        Panel(replace(BENCH, button=99), presses.put, SystemClock(), factory),
    ):
        pass
    with Panel(BENCH, presses.put, SystemClock(), factory) as again:
        assert again.note == ""


def test_a_pin_that_fails_while_the_station_runs_does_not_reach_the_bench_and_the_rest_goes_on(
    panel: Panel, factory: WatchedFactory, caplog: pytest.LogCaptureFixture
) -> None:
    factory.broken = {BUZZER, BENCH.lamp_ready or 0}
    panel.lamps(ready=True, busy=True, attention=False)
    panel.cue(Cue.ACCEPTED, "")
    assert factory.wait_until(lambda: factory.states(TONE) == [True, False] * 2)
    assert factory.states(BENCH.lamp_busy) == [True]
    assert "lamp_ready" in caplog.text
    factory.broken = set()
    panel.lamps(ready=True, busy=True, attention=False)
    assert factory.states(BENCH.lamp_ready) == [True]


def test_words_are_spoken_but_not_those_that_come_too_late_while_pouring(
    factory: WatchedFactory,
    presses: queue.SimpleQueue[Pressed],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    said: queue.SimpleQueue[str] = queue.SimpleQueue()
    program = tmp_path / "espeak-ng"
    program.write_text("#!/bin/sh\ncat > /dev/null\n")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr("station.signals.speech.Voice.say", lambda self, words: said.put(words))
    with Panel(replace(BENCH, speech=True), presses.put, SystemClock(), factory) as panel:
        panel.cue(Cue.NEAR, "Slowly: 5.0 g to go.")
        panel.cue(Cue.STOP, "Stop.")
        panel.cue(Cue.GO_ON, "")
        panel.cue(Cue.ACCEPTED, "A accepted: 62.4 g.")
    assert said.get_nowait() == "A accepted: 62.4 g."
    assert said.empty()


def test_a_machine_without_gpio_gets_mock_pins_and_says_so_once(tmp_path: Path) -> None:
    factory, note = pins(tmp_path / "model")
    assert isinstance(factory, MockFactory)
    assert note == NO_GPIO


def test_mock_pins_of_a_long_alarm_keep_no_history(tmp_path: Path) -> None:
    factory, _ = pins(tmp_path / "model")
    pin = factory.pin(BUZZER)
    pin.function = "output"
    for i in range(1000):
        pin.state = (i + 1) % 2
    assert [bool(state.state) for state in pin.states] == [False]
    factory.close()


def test_a_board_that_should_have_pins_and_cannot_use_them_says_that_instead(tmp_path: Path) -> None:
    model = tmp_path / "model"
    model.write_bytes(b"Raspberry Pi 4 Model B\0")
    _, note = pins(model)
    assert note.startswith(BROKEN_GPIO)
