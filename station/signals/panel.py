"""Panel: buzzer, lamps, pedal and button on GPIO pins, with mock pins where there is no GPIO."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from types import TracebackType
from typing import Any

from gpiozero import LED, Buzzer, DigitalInputDevice, TonalBuzzer

from station.config import SignalSettings
from station.core.cues import Cue, Urgency
from station.core.messages import Pressed
from station.errors import SignalFault
from station.ports import TimeSource
from station.signals.patterns import ALARMS, CUES, DOOR, Pattern, pitch_hz, ticks
from station.signals.pedal import HELD_S, Held, PressReader, Times, Told
from station.signals.pins import Sounders, pins, tried
from station.signals.player import Player
from station.signals.speech import Voice, code_words
from station.texts import t

UNSPOKEN = frozenset({Cue.NEAR, Cue.STOP})
"""Said too late to be of use while pouring: the tones and the page carry them."""

LAMPS = ("lamp_ready", "lamp_busy", "lamp_attention")


class Panel:
    """Implements `ports.Signals`. `note` is a sentence when the pins are simulated, else empty.

    `held` is called when the button, not the pedal, has been held for ten seconds.
    """

    def __init__(
        self,
        settings: SignalSettings,
        press: Callable[[Pressed], object],
        clock: TimeSource,
        factory: Any = None,
        held: Callable[[], object] = lambda: None,
        *,
        quiet: Callable[[], bool] = lambda: False,
        numbers: bool = False,
    ) -> None:
        """`held`: called when the button was held. While `quiet()` is true no cue is spoken; all else is as always.

        `numbers`: what is still to pour is spoken, too.
        """
        self._unspoken = frozenset({Cue.STOP}) if numbers else UNSPOKEN
        self._settings, self._press, self._clock, self._held = settings, press, clock, held
        self.factory, self.note = (factory, "") if factory is not None else pins()
        self._quiet = quiet
        self._stack = ExitStack()
        self._player: Player
        self._voice: Voice | None = None
        self._lamps: dict[str, Any] = {}
        self._lit: dict[str, bool] = {}
        self._used: dict[int, str] = {}
        self._ticks: tuple[Pattern, float] = (), pitch_hz(None)

    def __enter__(self) -> Panel:
        with ExitStack() as stack:
            s = self._settings
            buzzer = self._made(stack, Buzzer, s.buzzer, "buzzer")
            tone = self._made(stack, TonalBuzzer, s.tone, "tone")
            self._lamps = {name: self._made(stack, LED, getattr(s, name), name) for name in LAMPS}
            self._player = stack.enter_context(Player(Sounders(buzzer, tone), self.factory.ticks))
            for name, pin in (("pedal", s.pedal), ("button", s.button)):
                self._contact(stack, name, pin)
            voice = Voice(quiet=self._quiet)
            if s.speech and voice.fitted:
                self._voice = stack.enter_context(voice)
            self._stack = stack.pop_all()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._stack.close()

    @property
    def speaks(self) -> bool:
        """Whether words are spoken, too."""
        return self._voice is not None

    def cue(self, cue: Cue, words: str) -> None:
        """Sound it once, and say its words."""
        self._player.cue(CUES[cue])
        if self._voice is not None and words and cue not in self._unspoken:
            self._voice.say(words)

    def say_code(self, code: str) -> None:
        """Say a pairing code, where there is a voice, in quiet hours too. Returns at once."""
        if self._voice is not None:
            self._voice.say(code_words(code), asked_for=True)

    def hold(self, urgency: Urgency) -> None:
        """Sound the alarm of this urgency until told otherwise."""
        self._player.hold(ALARMS[urgency])

    def pace(self, pace: float | None) -> None:
        """Tick the pace of a led pour; nothing where there is none."""
        pattern, tick_hz = ticks(pace), pitch_hz(pace)
        if (pattern, tick_hz) != self._ticks:
            self._ticks = pattern, tick_hz
            self._player.pace(pattern, tick_hz)

    def lamps(self, ready: bool, busy: bool, attention: bool) -> None:
        """Light what is true."""
        for name, lit in zip(LAMPS, (ready, busy, attention), strict=True):
            lamp = self._lamps[name]
            changes = lamp is not None and self._lit.get(name) is not lit
            if changes and tried(name, lamp.on if lit else lamp.off):
                self._lit[name] = lit

    def _made(self, stack: ExitStack, kind: Any, pin: int | None, name: str) -> Any:
        if pin is None:
            return None
        if pin in self._used:
            raise SignalFault(
                t("[signals] {name} and {used} are both given GPIO {pin}.", name=name, used=self._used[pin], pin=pin),
                t("Give each a number of its own."),
            )
        self._used[pin] = name
        try:
            device = kind(pin, pin_factory=self.factory)
        except Exception as why:  # the pin libraries have errors of their own, some of them plain Exceptions
            raise SignalFault(
                t("[signals] {name}: GPIO {pin} cannot be used: {why}.", name=name, pin=pin, why=why)
            ) from why
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
                # Something may stand on a pedal for long without anybody meaning it.
                Times(self._settings.long_press_s, HELD_S if name == "button" else None),
                lambda: bool(device.is_active),
                lambda told: self._told(told, name),
            )
        )
        device.when_activated = lambda: reader.edge(True)
        device.when_deactivated = lambda: reader.edge(False)

    def _told(self, told: Told, name: str) -> None:
        if isinstance(told, Held):
            self._player.cue(DOOR)
            self._held()
            return
        # The loop itself sounds a refusal; nobody waits for the answer here.
        self._press(Pressed(told, name))
