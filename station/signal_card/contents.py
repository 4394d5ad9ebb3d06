"""What stands on the card of one bench: only the parts that its settings name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from station.config import SignalSettings
from station.core.lamps import LIT, Lamp
from station.signal_card.tones import Tone, alarm_tones, cue_tones
from station.signals.pedal import HELD_S
from station.texts import number, t


@dataclass(frozen=True, slots=True)
class Line:
    """Something at the bench, and what it means."""

    name: str
    words: str


@dataclass(frozen=True, slots=True)
class Card:
    """The card: tones, alarms, the ticks of a led pour, lamps and presses, each empty where nothing of it is fitted."""

    bench: str
    tones: Sequence[Tone]
    alarms: Sequence[Tone]
    pours: Sequence[Line]
    lamps: Sequence[Line]
    presses: Sequence[Line]
    last: str
    """A sentence below all: where the same is said."""


def card(bench: str, signals: SignalSettings) -> Card:
    """The card of a bench with these signals."""
    sounds = signals.buzzer is not None or signals.tone is not None
    return Card(
        bench,
        cue_tones() if sounds else (),
        alarm_tones() if sounds else (),
        _pours(signals) if sounds else (),
        _lamps(signals),
        _presses(signals),
        t("The same is on the page, and is spoken where a voice is fitted.")
        if signals.speech
        else t("The same is on the page."),
    )


def _pours(signals: SignalSettings) -> Sequence[Line]:
    words = (
        t("The quicker and higher they come, the thinner the stream shall be; none: pour freely.")
        if signals.tone is not None
        else t("The quicker they come, the thinner the stream shall be; none: pour freely.")
    )
    end = t("They end with one long tone: stop.")
    return [Line(t("ticks"), f"{words} {end}")]


def _lamps(signals: SignalSettings) -> Sequence[Line]:
    pins = {Lamp.READY: signals.lamp_ready, Lamp.BUSY: signals.lamp_busy, Lamp.ATTENTION: signals.lamp_attention}
    return [Line(t(lamp.value), t(LIT[lamp])) for lamp, pin in pins.items() if pin is not None]


def _presses(signals: SignalSettings) -> Sequence[Line]:
    if signals.pedal is None and signals.button is None:
        return ()
    found = [
        Line(
            t("short press"),
            t(
                "Go on to the next step. While an alarm sounds: answer it. At a free bench: begin the cast that "
                "waits first."
            ),
        ),
        Line(
            t("long press, {seconds} s", seconds=number(signals.long_press_s)),
            t(
                "Pause, and go on again; the clocks run on. At a free bench: the part whose demold alarm was answered "
                "first is out of its mold."
            ),
        ),
    ]
    if signals.button is not None:
        found.append(
            Line(
                t("button held, {seconds} s", seconds=number(HELD_S)),
                t("Lock out every device that may touch the bench, and let one in again with a new code."),
            )
        )
    return found
