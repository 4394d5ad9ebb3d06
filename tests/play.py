"""A bench in the hands of a test: it speaks the trade, keeps its own clock, and folds effects as the loop does."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from station.core import messages as msg
from station.core.bench import Bench, resumed, step
from station.core.effects import Effect, KeepTime, KeepTrace, Record, Say
from station.core.events import Entry, Event
from station.core.mass import ZERO, Mass
from station.core.material import Additive, Basis, Component, Cup, Lot, Material, Mold, ScaleCard, Times
from station.core.moment import Moment
from station.core.plan import CastPlan
from station.core.planning import planned
from station.core.standing import Cast, Standing
from station.core.steps import Step
from station.core.workplace import Workplace

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000), lag_s=0.3)
PLACE = Workplace(CARD, Cup(Mass.grams(900)))

SILICONE = Material(
    key="silicone",
    title="Silicone 10:1",
    components=(Component("A", 10), Component("B", 1)),
    basis=Basis.WEIGHT,
    times=Times(pot_life_s=1800, mix_s=180, pour_reserve_s=240, demold_s=14400, full_cure_s=86400),
    tolerance_percent=2,
    weigh_order=("A", "B"),
    pour_into="A",
)
FOAM = Material(
    key="foam",
    title="Foam 100:60",
    components=(Component("A", 100), Component("B", 60)),
    basis=Basis.WEIGHT,
    times=Times(pot_life_s=50, mix_s=15, pour_reserve_s=12, demold_s=1200, full_cure_s=86400),
    tolerance_percent=2,
    weigh_order=("A", "B"),
    pour_into="B",
    additives=(Additive("pigment", 3, of="B", into="B", premix_s=20),),
    cling_percent=1.0,
)
RUBBER = Material(
    key="rubber",
    title="Rubber 1:1 by volume",
    components=(Component("A", 1, 1.06), Component("B", 1, 0.98)),
    basis=Basis.VOLUME,
    times=Times(pot_life_s=900, mix_s=120, pour_reserve_s=120, demold_s=21600),
    tolerance_percent=2,
    weigh_order=("A", "B"),
    pour_into="A",
)
PAD = Mold("pad", "Kayak seat pad", ready_items=("clamps",))
GRIP = Mold("grip", "Paddle grip", closes=False)

BOOT = "boot-1"
DAY = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


class Play:
    """Puts cups down, pours, presses and waits; remembers every entry and every cue."""

    def __init__(self, rate_hz: float = 10.0, stable_flag: bool | None = True) -> None:
        self.bench = Bench()
        self.boot_s = 1000.0
        self.boot_id = BOOT
        self.wall = DAY
        self.trusted = True
        self.by_hand = False
        self.kept_times: list[float] = []
        self.load = ZERO
        self.entries: list[Entry] = []
        self.cues: list[Say] = []
        self.traces: list[KeepTrace] = []
        self.period_s = 1 / rate_hz
        self.stable_flag = stable_flag
        self.send(msg.ScaleFound("test"))

    # --- time and messages
    @property
    def now(self) -> Moment:
        return Moment(self.boot_s, self.boot_id, self.wall, self.trusted, self.by_hand)

    def pass_s(self, seconds: float) -> None:
        self.boot_s += seconds
        self.wall += timedelta(seconds=seconds)

    def send(self, message: msg.Message) -> tuple[Effect, ...]:
        self.bench, effects = step(self.bench, message, self.now)
        self.entries += [Entry(e.event, self.now) for e in effects if isinstance(e, Record)]
        self.cues += [e for e in effects if isinstance(e, Say)]
        self.traces += [e for e in effects if isinstance(e, KeepTrace)]
        self.kept_times += [e.offset_s for e in effects if isinstance(e, KeepTime)]
        return effects

    def frame(self, moving: bool = False) -> None:
        self.pass_s(self.period_s)
        stability = msg.Stability.UNSAID
        if self.stable_flag is not None:
            stability = msg.Stability.MOVING if moving else msg.Stability.STABLE
        d = CARD.readability.mg
        shown = Mass(round(self.load.mg / d) * d)
        self.send(msg.Reading(shown, stability))

    def stand(self, seconds: float = 2.5) -> None:
        """Nothing moves for a while."""
        for _ in range(round(seconds / self.period_s)):
            self.frame()

    def wait(self, seconds: float, tick_s: float = 0.5) -> None:
        """Time passes without a reading."""
        for _ in range(round(seconds / tick_s)):
            self.pass_s(tick_s)
            self.send(msg.Tick())

    # --- hands
    def put(self, grams: str | Mass) -> None:
        self.load = grams if isinstance(grams, Mass) else Mass.grams(grams)
        self.stand()

    def lift(self) -> Mass:
        """Take everything off; gives what it weighed."""
        was, self.load = self.load, ZERO
        self.stand(1.5)
        return was

    def pour(self, grams: str | Mass, g_per_s: float = 8.0, settle_s: float = 3.0) -> None:
        wanted = grams if isinstance(grams, Mass) else Mass.grams(grams)
        start, step_mg = self.load, max(1, round(g_per_s * 1000 * self.period_s))
        poured = 0
        while poured < wanted.mg:
            poured = min(wanted.mg, poured + step_mg)
            self.load = start + Mass(poured)
            self.frame(moving=True)
        self.stand(settle_s)

    def press(self, press: msg.Press = msg.Press.SHORT, by: str = "pedal") -> None:
        self.send(msg.Pressed(press, by))

    def silicone_in_the_mold(self, lots: tuple[Lot, ...] = ()) -> None:
        """A cast of 220 g weighed, mixed and poured; its emptied cup is taken away."""
        self.begin(SILICONE, "220", GRIP, lots)
        self.put("24.3")
        self.pour("200.0", g_per_s=20)
        self.press()
        self.pour("20.0", g_per_s=3)
        self.wait(181)
        self.press()
        self.press()
        self.lift()
        self.press()

    def begin(self, material: Material, grams: str, mold: Mold = PAD, lots: tuple[Lot, ...] = ()) -> CastPlan:
        plan = planned(material, mold, Mass.grams(grams), place=PLACE, standing=self.bench.standing, lots=lots)
        self.send(msg.BeginCast(plan, "test"))
        return plan

    # --- what is there
    @property
    def standing(self) -> Standing:
        return self.bench.standing

    @property
    def cast(self) -> Cast:
        return self.standing.casts[-1]

    @property
    def step(self) -> Step:
        return self.cast.step

    def events(self, kind: type[Event]) -> list[Event]:  # type: ignore[valid-type]
        return [entry.event for entry in self.entries if isinstance(entry.event, kind)]

    def restart(self, off_s: float = 0.0, new_boot: str = "", trusted: bool = True) -> None:
        """kill -9 and start again; with `new_boot` the power was off for `off_s`."""
        last_seen = self.entries[-1].at if self.entries else None
        if new_boot:
            self.boot_id, self.boot_s, self.trusted, self.by_hand = new_boot, 20.0, trusted, False
        else:
            self.boot_s += off_s
        self.wall += timedelta(seconds=off_s)
        self.bench = resumed(self.entries)
        self.send(msg.Started(last_seen, "test"))
        self.send(msg.ScaleFound("test"))

    def said(self) -> list[str]:
        return [say.cue.name for say in self.cues]


def replay_equals_live(play: Play) -> bool:
    return resumed(play.entries).standing == play.standing


def masses(texts: Iterable[str]) -> list[Mass]:
    return [Mass.grams(text) for text in texts]
