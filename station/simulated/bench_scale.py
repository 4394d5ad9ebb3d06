"""BenchScale: a whole simulated scale: load cell, way of talking and cable, with what can befall it.

It has no clock: `step` lets time pass. The same steps, loads and faults give the same bytes.
"""

from __future__ import annotations

from decimal import Decimal

from station.errors import SettingsError
from station.simulated import faults
from station.simulated.load_cell import TICK_S, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Voice


class BenchScale:
    """One scale, for one thread. `load_g` is what truly lies on the pan, in grams; set it at any time.

    At each renewal it sends what its voice says unasked; with a serial setting on the port no line begins before
    the one before it is through. Requests are answered once a step. Who owns the port plugs it in and out, or a
    fault does.
    """

    def __init__(self, voice: Voice, cell: LoadCell, port: PtyPort) -> None:
        self.voice, self.port = voice, port
        self.load_g = 0.0
        self._cell = cell
        self._first_path = port.path
        self._shown = cell.step(0.0, 0.0)
        self._zero_g = self._tare_g = Decimal(0)
        self._owed_s = 0.0
        self._busy_s = self._stuck_s = self._silent_s = self._off_s = self._hold_s = 0.0
        self._on_s = 0.0
        self._boots_at_zero = False
        self._auto: faults.AutoOff | None = None
        self._torn: faults.HalfLine | None = None
        self._held = b""

    @property
    def on(self) -> bool:
        """Whether it has power."""
        return self._off_s <= 0

    @property
    def grams(self) -> Decimal:
        """What it shows, zero and tare taken off, in grams."""
        return self._shown.grams - self._zero_g - self._tare_g

    def press_tare(self) -> None:
        """Take what it shows now for the container's weight."""
        self._tare_g += self.grams

    def step(self, seconds: float) -> None:
        """Let time pass, to whole ticks of 0.01 s; then answer what has been asked. Raises OSError."""
        self._owed_s += seconds
        while self._owed_s > TICK_S / 2:
            self._owed_s -= TICK_S
            self._tick()
        asked = self.port.received()
        if self._talks:
            self._send(self.voice.answer(asked, self.grams, self._shown.stable, self._shown.overload))

    def befall(self, fault: faults.Fault) -> None:
        """Let this happen now. Raises SettingsError for an unknown family or unit, OSError when plugging in fails."""
        match fault:
            case faults.Unplugged():
                self._held = b""
                self.port.unplug()
            case faults.PluggedIn(elsewhere, suffix):
                where = self._first_path.with_name(self._first_path.name + suffix)
                self.port.plug_in(where, elsewhere=elsewhere)
            case faults.HalfLine():
                self._torn = fault
            case faults.Burst(pause_s):
                self._hold_s = pause_s
            case faults.Restarted(off_s, zeroes):
                self._switch_off(off_s, zeroes)
            case faults.UnitChanged(unit):
                self._show_in(unit)
            case faults.FamilyChanged(family, delivery):
                self.voice = Voice(family, delivery)
            case faults.LineChanged(setting):
                self.port.setting = setting
            case faults.Stuck(seconds):
                self._stuck_s = seconds
            case faults.Silent(seconds):
                self._silent_s = seconds
            case faults.AutoOff():
                self._auto, self._on_s = fault, 0.0
            case faults.Mended():
                self._mend()

    def _show_in(self, unit: str) -> None:
        if unit not in self.voice.units:
            known = ", ".join(self.voice.units)
            raise SettingsError([f"The simulated scale has no unit {unit!r} as {self.voice.family}. It has {known}."])
        self.voice.unit = unit

    @property
    def _talks(self) -> bool:
        return self.on and self._silent_s <= TICK_S / 2

    def _tick(self) -> None:
        now = self._cell.step(TICK_S, self.load_g)
        if now.fresh and self._stuck_s <= TICK_S / 2:
            self._shown = now
        self._stuck_s, self._silent_s, self._busy_s = (
            max(0.0, left - TICK_S) for left in (self._stuck_s, self._silent_s, self._busy_s)
        )
        self._power()
        if now.fresh and self._talks and self._busy_s <= TICK_S / 2:
            self._send(self.voice.unasked(self.grams, self._shown.stable, self._shown.overload))
        if self._hold_s > 0:
            self._hold_s -= TICK_S
            if self._hold_s <= TICK_S / 2:
                self._hand_over()

    def _power(self) -> None:
        """Run down the time until it is switched off or on."""
        if not self.on:
            self._off_s -= TICK_S
            if self._off_s <= TICK_S / 2:
                self._boot()
            return
        self._on_s += TICK_S
        if self._auto is not None and self._on_s > self._auto.on_s - TICK_S / 2:
            self._switch_off(self._auto.off_s, self._auto.zeroes)

    def _switch_off(self, off_s: float, zeroes: bool) -> None:
        self._off_s, self._boots_at_zero = max(off_s, TICK_S), zeroes
        self._stuck_s = 0.0

    def _boot(self) -> None:
        self._off_s = self._on_s = 0.0
        self._tare_g = Decimal(0)
        self._zero_g = self._shown.grams if self._boots_at_zero else Decimal(0)
        self._send(self.voice.greeting)

    def _mend(self) -> None:
        self._stuck_s = self._silent_s = 0.0
        self._auto, self._torn = None, None
        if not self.on:
            self._boot()
        self._hand_over()

    def _send(self, frame: bytes) -> None:
        """Onto the line, unless something is between."""
        if not frame:
            return
        if self.port.setting is not None:
            self._busy_s = self.port.setting.seconds(len(frame))
        late = b""
        if self._torn is not None:
            at, lost = self._torn.at, self._torn.lost
            self._torn = None
            late = frame[at:] if lost is faults.Lost.NOTHING else b""
            frame = frame[at:] if lost is faults.Lost.HEAD else frame[:at]
        if self._hold_s > 0:
            self._held += frame + late
            return
        self.port.emit(self._held + frame)
        self._held = late

    def _hand_over(self) -> None:
        self._hold_s = 0.0
        if self._held:
            self.port.emit(self._held)
        self._held = b""
