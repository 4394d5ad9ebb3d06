"""Panel: buzzer, lamps, pedal and button on GPIO pins, with mock pins where there is no GPIO."""

from __future__ import annotations

import logging
from collections.abc import Callable
from contextlib import ExitStack
from types import TracebackType
from typing import Any

from gpiozero import LED, Buzzer, DigitalInputDevice, TonalBuzzer
from gpiozero.exc import GPIOZeroError
from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.config import SignalSettings
from station.core.cues import Cue, Urgency
from station.core.messages import Press, Pressed
from station.errors import SignalFault
from station.ports import TimeSource
from station.signals.patterns import ALARMS, CUES
from station.signals.pedal import PressReader
from station.signals.player import Player
from station.signals.speech import Voice

log = logging.getLogger("tarebell.signals")

NO_GPIO = "No GPIO on this machine: buzzer and lamps are simulated; cues go to the page and the terminal."
TONE_HZ = 880.0


class Sounders:
    """An active buzzer and, where fitted, a tonal one that sounds with it."""

    def __init__(self, buzzer: Any, tone: Any) -> None:
        self._buzzer, self._tone = buzzer, tone

    def on(self) -> None:
        """Sound."""
        if self._buzzer is not None:
            self._buzzer.on()
        if self._tone is not None:
            self._tone.play(TONE_HZ / 2)

    def off(self) -> None:
        """Be silent."""
        if self._buzzer is not None:
            self._buzzer.off()
        if self._tone is not None:
            self._tone.stop()


class Panel:
    """Implements `ports.Signals`. `note` is a sentence when the pins are simulated, else empty."""

    def __init__(
        self, settings: SignalSettings, press: Callable[[Pressed], object], clock: TimeSource, factory: Any = None
    ) -> None:
        self._settings, self._press, self._clock = settings, press, clock
        self.factory, self.note = (factory, "") if factory is not None else _pins()
        self._stack = ExitStack()
        self._player: Player
        self._voice: Voice | None = None
        self._lamps: list[Any] = []

    def __enter__(self) -> Panel:
        with ExitStack() as stack:
            s = self._settings
            buzzer = self._made(stack, Buzzer, s.buzzer, "buzzer")
            tone = self._made(stack, TonalBuzzer, s.tone, "tone")
            lamps = {"lamp_ready": s.lamp_ready, "lamp_busy": s.lamp_busy, "lamp_attention": s.lamp_attention}
            self._lamps = [self._made(stack, LED, pin, name) for name, pin in lamps.items()]
            self._player = stack.enter_context(Player(Sounders(buzzer, tone)))
            for name, pin in (("pedal", s.pedal), ("button", s.button)):
                self._contact(stack, name, pin)
            voice = Voice()
            if s.speech and voice.fitted:
                self._voice = stack.enter_context(voice)
            self._stack = stack.pop_all()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._stack.close()

    def cue(self, cue: Cue, words: str) -> None:
        """Sound it once, and say its words."""
        self._player.cue(CUES[cue])
        if self._voice is not None and words:
            self._voice.say(words)

    def hold(self, urgency: Urgency) -> None:
        """Sound the alarm of this urgency until told otherwise."""
        self._player.hold(ALARMS[urgency])

    def lamps(self, ready: bool, busy: bool, attention: bool) -> None:
        """Light what is true."""
        for lamp, lit in zip(self._lamps, (ready, busy, attention), strict=True):
            if lamp is not None and lamp.is_lit != lit:
                lamp.value = lit

    def _made(self, stack: ExitStack, kind: Any, pin: int | None, name: str) -> Any:
        if pin is None:
            return None
        try:
            device = kind(pin, pin_factory=self.factory)
        except (GPIOZeroError, OSError, ValueError) as why:
            raise SignalFault(f"[signals] {name}: GPIO {pin} cannot be used: {why}") from why
        stack.callback(device.close)
        return device

    def _contact(self, stack: ExitStack, name: str, pin: int | None) -> None:
        if pin is None:
            return
        device = self._made(
            stack, lambda p, pin_factory: DigitalInputDevice(p, pull_up=True, pin_factory=pin_factory), pin, name
        )
        reader = stack.enter_context(
            PressReader(
                self._clock,
                self._settings.long_press_s,
                lambda: bool(device.is_active),
                lambda press: self._told(press, name),
            )
        )
        device.when_activated = lambda: reader.edge(True)
        device.when_deactivated = lambda: reader.edge(False)

    def _told(self, press: Press, name: str) -> None:
        # The loop itself sounds a refusal; nobody waits for the answer here.
        self._press(Pressed(press, name))


def _pins() -> tuple[Any, str]:
    """Real pins through lgpio where there is a GPIO chip, mock pins elsewhere."""
    try:
        from gpiozero.pins.lgpio import LGPIOFactory

        return LGPIOFactory(), ""
    except Exception as why:  # the libraries raise all kinds of errors on a machine without GPIO
        log.info("mock pins why=%s", why)
        return MockFactory(pin_class=MockPWMPin), NO_GPIO
