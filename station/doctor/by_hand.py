"""What only a person can tell: whether the buzzer is heard, the lamps are seen, and whether a press arrives.

Only while the station is stopped, for it owns the pins. The panel is the station's own, so what works here works there.
"""

from __future__ import annotations

import queue
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from typing import Protocol

from station.config import SignalSettings
from station.core.cues import Cue
from station.core.messages import Press, Pressed
from station.doctor.finding import Finding, Looked, failed, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.titles import BUTTON, BUZZER, LAMP, PEDAL, SPEECH, TRIED
from station.errors import StationError
from station.ports import TimeSource
from station.signals.panel import LAMPS, Panel
from station.texts import N_, t

PRESS_WITHIN_S = 20.0
_LAMPS = {
    "lamp_ready": N_("Does the lamp “something to do” shine?"),
    "lamp_busy": N_("Does the lamp “a clock runs” shine?"),
    "lamp_attention": N_("Does the lamp “look here” shine?"),
}


class Person(Protocol):
    """Who sits at the terminal."""

    def asked(self, question: str) -> bool | None:
        """Yes or no; None: does not know, or has gone."""
        ...

    def told(self, words: str) -> None:
        """Ask something of the person that needs no answer."""
        ...


Fit = Callable[[Callable[[Pressed], object]], AbstractContextManager[Panel]]
"""Makes the panel; presses go to what is handed in."""


def tried_by_hand(patient: Patient, person: Person | None, fit: Fit, clock: TimeSource) -> Iterator[Looked]:
    """Everything that a person has to tell, one after the other. Nothing is raised."""
    if patient.settings is None:
        return
    why_not = _why_not(patient, person)
    if why_not is not None:
        yield Looked("by-hand", t(TRIED), (why_not,))
        return
    assert person is not None
    presses: queue.SimpleQueue[Pressed] = queue.SimpleQueue()
    try:
        with fit(presses.put) as panel:
            if panel.note:
                yield Looked("by-hand", t(TRIED), (look(t(panel.note)),))
                return
            yield from _each(patient.settings.signals, panel, person, presses, clock)
    except StationError as why:
        yield Looked("by-hand", t(TRIED), (failed(str(why), t(why.hint)),))
    except Exception as why:  # the pin libraries have errors of their own, some of them plain Exceptions
        told = t("The pins could not be tried: {why}.", why=why)
        yield Looked("by-hand", t(TRIED), (failed(told, t("Look at what is said of Pins.")),))


def _why_not(patient: Patient, person: Person | None) -> Finding | None:
    match patient.station.life:
        case Life.RUNS:
            told = t("The station runs and has the pins, so buzzer, lamps and pedal were not tried from here.")
            cure = t(
                "The page Station sounds the buzzer; press the pedal and watch the page. Or stop the station first: "
                "sudo systemctl stop tarebell"
            )
            return look(told, cure)
        case Life.UNKNOWN:
            told = t("Whether the station runs cannot be seen by this user, so the pins were left alone.")
            return look(told, t("Ask again with sudo."))
        case Life.STOPPED if person is None:
            told = t("Buzzer, lamps and pedal were not tried: nobody was asked.")
            return look(told, t("Run `tarebell doctor` in a terminal while the station is stopped."))
        case Life.STOPPED:
            return None


def _each(
    fitted: SignalSettings, panel: Panel, person: Person, presses: queue.SimpleQueue[Pressed], clock: TimeSource
) -> Iterator[Looked]:
    if fitted.buzzer is not None or fitted.tone is not None:
        panel.cue(Cue.ACKNOWLEDGED, "")
        yield Looked("buzzer", t(BUZZER), (_heard(person.asked(t("Did you hear the buzzer?"))),))
    if panel.speaks:
        panel.cue(Cue.ACKNOWLEDGED, t("This is a test."))
        yield Looked("speech", t(SPEECH), (_spoken(person.asked(t("Did you hear words?"))),))
    shone = []
    for name in LAMPS:
        pin = getattr(fitted, name)
        if pin is not None:
            panel.lamps(*(name == lit for lit in LAMPS))
            shone.append(_shone(person.asked(t(_LAMPS[name])), name, pin))
    if shone:
        panel.lamps(False, False, False)
        yield Looked("lamps", t(LAMP), tuple(shone))
    if fitted.pedal is not None:
        person.told(t("Press the pedal now: you have {within} seconds.", within=f"{PRESS_WITHIN_S:.0f}"))
        yield Looked("pedal", t(PEDAL), (_arrived(presses, "pedal", fitted.pedal, clock),))
    if fitted.button is not None:
        person.told(t("Press the button now: you have {within} seconds.", within=f"{PRESS_WITHIN_S:.0f}"))
        yield Looked("button", t(BUTTON), (_arrived(presses, "button", fitted.button, clock),))


def _heard(answer: bool | None) -> Finding:
    match answer:
        case True:
            return passed(t("It was heard."))
        case False:
            cure = t(
                "Look at its plus and minus, its transistor and the pin in the settings. An active buzzer sounds by "
                "itself when it gets its voltage."
            )
            return failed(t("It was not heard."), cure)
        case None:
            return _unanswered()


def _spoken(answer: bool | None) -> Finding:
    match answer:
        case True:
            return passed(t("Words were heard."))
        case False:
            return look(t("No words were heard."), t("Plug a loudspeaker in and turn it up, or do without."))
        case None:
            return _unanswered()


def _shone(answer: bool | None, name: str, pin: int) -> Finding:
    match answer:
        case True:
            return passed(t("{name} (GPIO {pin}) shines.", name=name, pin=pin))
        case False:
            cure = t("Look at its resistor, its long and its short leg, and the pin in the settings.")
            return failed(t("{name} (GPIO {pin}) does not shine.", name=name, pin=pin), cure)
        case None:
            return _unanswered()


def _unanswered() -> Finding:
    return look(t("Nobody said whether it works."))


def _arrived(presses: queue.SimpleQueue[Pressed], name: str, pin: int, clock: TimeSource) -> Finding:
    until_s = clock.now().boot_s + PRESS_WITHIN_S
    while (left_s := until_s - clock.now().boot_s) > 0:
        try:
            pressed = presses.get(timeout=left_s)
        except queue.Empty:
            break
        if pressed.by == name:
            long = pressed.press is Press.LONG
            return passed(t("A long press arrived.") if long else t("A short press arrived."))
    cure = t("Its contact belongs between GPIO {pin} and ground. Look at both wires, and at the settings.", pin=pin)
    return failed(t("No press arrived within {within} seconds.", within=f"{PRESS_WITHIN_S:.0f}"), cure)
