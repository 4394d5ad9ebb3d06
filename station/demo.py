"""`tarebell demo`: the whole station on a pseudo-terminal scale, mock pins and a simulated caster.

The same composition root as `run`. The caster and the station go in lock step: the clock moves one frame,
the scale sends its line, and the next frame waits until the station has dealt with it. So a seed repeats
exactly, and `speed` changes nothing but how long it takes to watch.
"""

from __future__ import annotations

import math
import tempfile
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from gpiozero.pins.mock import MockFactory, MockPWMPin

from station.app import Station, assembled
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings, WebSettings
from station.core.clocks import ClockKind
from station.core.effects import Say
from station.core.events import Entry
from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.messages import Command, Demold, Press, Pressed
from station.core.moment import Moment
from station.core.snapshot import ScaleState, Snapshot
from station.errors import Fault, Refused, SettingsError
from station.languages import begin_to_speak
from station.scale.families import family_named
from station.simulated.account import told
from station.simulated.caster import Caster, Hands
from station.simulated.judge import at_demold, at_full_cure
from station.simulated.load_cell import LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from station.store.batch_record import as_text
from station.testing import ScriptedClock
from station.texts import N_, t

NAME = "Wrenfield Works"
INVENTED = N_("{name} is an invented workshop; its materials, molds and lots are invented too. The scale is simulated.")
CASTS = (("example-silicone", "paddle-grip"), ("example-foam", "kayak-seat-pad"))
LOTS = {
    "example-silicone": {"A": "WW-SA-0117", "B": "WW-SB-0117"},
    "example-foam": {"A": "WW-FA-0203", "B": "WW-FB-0203"},
}
FRAME_S = 0.1
ANSWER_S = 10.0
HEARD_AFTER_S = 3.0
POLL_S = 0.002
"""A scale that speaks only when asked is asked again as soon as it has answered: the lock step sets the pace."""
CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.3)


@dataclass(frozen=True, slots=True)
class Script:
    """How the demo goes: `once` ends it after both casts; `speed` is how many times faster than life."""

    speed: float = 4.0
    seed: int = 1
    once: bool = False
    family: str = "status-commas"
    web_port: int = 8060
    state_dir: Path | None = None
    language: str = "en"


def run_demo(script: Script, say: Callable[[str], None]) -> None:
    """Until interrupted, or until both casts are done with `once`. Raises SettingsError or Fault."""
    begin_to_speak(script.language)
    spec = family_named(script.family)
    if not spec.guides:
        raise SettingsError([t("--family: {spec} is printed at a key and cannot guide a weighing.", spec=spec.id)])
    if spec.mute_moving:
        wrong = N_("--family: {spec} sends no number while the load moves, so no pour can be shown with it.")
        raise SettingsError([t(wrong, spec=spec.id)])
    voice = Voice(spec.id, Delivery.STREAM if spec.request is None else Delivery.REQUEST)
    with tempfile.TemporaryDirectory(prefix="tarebell-demo-") as folder:
        state = script.state_dir or Path(folder) / "state"
        state.mkdir(parents=True, exist_ok=True)
        port = PtyPort(Path(folder) / "scale")
        settings = Settings(
            name=NAME,
            state_dir=state,
            scale=ScaleSettings(
                port=str(port.path),
                family=spec.id,
                unit="g",
                worth=Decimal(1).scaleb(-(voice.implied_decimals or 0)),
                poll_s=POLL_S,
                card=CARD,
            ),
            signals=SignalSettings(speech=False),
            climate=ClimateSettings("none", humidity=False),
            web=WebSettings("127.0.0.1", script.web_port),
            language=script.language,
        )
        clock = ScriptedClock()

        def account(what: Entry | Say, at: Moment) -> None:
            if line := told(what, at):
                say(line)

        say(t(INVENTED, name=NAME))
        with (
            port,
            assembled(
                settings,
                clock,
                pin_factory=MockFactory(pin_class=MockPWMPin),
                account=account,
                announce=lambda code: say(t("pairing code: {code}", code=code)),
                ticks=False,
            ) as station,
        ):
            say(t("The page: {url}   (Ctrl-C ends it)", url=station.url))
            driver = Driver(script, station, clock, port, voice)
            thread = threading.Thread(target=driver.run, name="caster")
            thread.start()
            try:
                station.loop.run()
            finally:
                driver.ending.set()
                thread.join()
            for number in driver.done:
                if (record := station.archive.record(number)) is not None:
                    say(f"\n{as_text(record)}")


class Driver:
    """Moves clock, scale and person; posts nothing that a real scale, pedal or page could not."""

    def __init__(self, script: Script, station: Station, clock: ScriptedClock, port: PtyPort, voice: Voice) -> None:
        self._script, self._station, self._clock = script, station, clock
        self._port, self._voice = port, voice
        self._cell = LoadCell(CARD, 1 / FRAME_S, seed=script.seed)
        self._person = Caster(script.seed, FRAME_S)
        self._load = 0.0
        self.ending = threading.Event()
        self.done: list[int] = []

    def run(self) -> None:
        """The thread's life; whatever goes wrong in it ends the demo with that error."""
        try:
            self._cast_and_cure()
        except BaseException as bug:
            self._station.inbox.end(bug)
        else:
            self._station.inbox.end()

    def _cast_and_cure(self) -> None:
        seen = self._warm_up()
        hands = self._person.hands(seen)
        self._load = next(hands)
        while not self.ending.is_set():
            for material, mold in CASTS:
                begin = self._station.library.plan(material, mold, "", LOTS[material], "demo")
                self.done.append(self._ask(begin) or 0)
                seen = self._frame(FRAME_S)
                while seen.bench is not None and not self.ending.is_set():
                    seen = self._work(hands, seen)
            while seen.curing and not self.ending.is_set():
                seen = self._answer(seen)
                seen = self._work(hands, seen, self._skip_s(seen))
            if self._script.once:
                return
            self.done.clear()

    def _warm_up(self) -> Snapshot:
        """Send the empty pan until the station has read it; the clock stands still meanwhile."""
        for _ in range(200):
            # The link drops what it cannot be sure of; how many lines that takes must not show in the seed's story.
            self._send(Decimal("0.0"), stable=True)
            seen = self._station.board.newer_than(-1, 0)
            if seen is not None and seen.scale.state is ScaleState.LIVE:
                return seen
            if self.ending.wait(0.05):
                break
        raise Fault(t("The simulated scale was not read."), t("Is another demo using the same folder?"))

    def _work(self, hands: Hands, seen: Snapshot, dt: float = FRAME_S) -> Snapshot:
        """One frame of the person's work."""
        self._load = hands.send(seen)
        for press in self._person.presses:
            with suppress(Refused):  # the person presses again when nothing happened
                self._ask(Pressed(press, "pedal"))
        self._person.presses.clear()
        return self._frame(dt)

    def _answer(self, seen: Snapshot) -> Snapshot:
        """Somebody hears the bell, comes, presses, takes the part out and judges it."""
        for alarm in seen.alarms:
            if alarm.since_s is not None and alarm.since_s >= HEARD_AFTER_S:
                self._ask(Pressed(Press.SHORT, "pedal"))
                if alarm.clock is ClockKind.DEMOLD:
                    self._ask(Demold(alarm.number, "demo"))
                record = self._station.archive.record(alarm.number)
                judge = {ClockKind.DEMOLD: at_demold, ClockKind.FULL_CURE: at_full_cure}.get(alarm.clock)
                for word in judge(record, self._script.seed) if judge is not None and record is not None else ():
                    self._ask(word)
                return self._frame(FRAME_S)
        return seen

    def _skip_s(self, seen: Snapshot) -> float:
        """While nothing happens time leaps, and slows down as the next bell comes near."""
        if seen.alarms:
            return 0.5
        dials = (dial for cast in seen.curing for dial in cast.dials if dial.running)
        # A cure that somebody typed too cold stands still: time then goes on as it is.
        left = [dial.left_s for dial in dials if 0 < dial.left_s < math.inf]
        return max(FRAME_S, min(left, default=FRAME_S) / 30)

    def _frame(self, dt: float) -> Snapshot:
        self._clock.advance(dt)
        before = self._frames()
        self._emit()
        seen = None
        while not self.ending.is_set():
            seen = self._station.board.newer_than(-1 if seen is None else seen.seq, ANSWER_S)
            if seen is None:
                raise Fault(t("The station did not deal with a line of the scale."))
            if seen.scale.frames > before:
                break
        if self._script.speed > 0:
            self.ending.wait(FRAME_S / self._script.speed)
        latest = self._station.board.latest()
        assert latest is not None
        return latest

    def _frames(self) -> int:
        latest = self._station.board.latest()
        return 0 if latest is None else latest.scale.frames

    def _emit(self) -> None:
        shown = self._cell.step(FRAME_S, self._load)
        self._send(shown.grams, shown.stable, shown.overload)

    def _send(self, grams: Decimal, stable: bool, overload: bool = False) -> None:
        """One line; a scale that answers only when asked waits for the request."""
        for _ in range(0 if self._voice.streams else 4000):
            if self._port.received() or self.ending.wait(0.001):
                break
        self._port.emit(self._voice.line(grams, stable, overload))

    def _ask(self, command: Command) -> int | None:
        return self._station.inbox.ask(command).result(ANSWER_S)
