"""Casts of Wrenfield Works, an invented two-person workshop, as journal entries. All of it is invented."""

from __future__ import annotations

from collections.abc import Sequence

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.core.material import Basis, Component, Cup, Lot, Material, Mold, ScaleCard, Times
from station.core.plan import CastPlan, Share, Way
from station.core.steps import Close, Combine, Cure, Mix, PlaceCup, Pour, Step, Weigh
from station.testing import ScriptedClock

G = Mass.grams

FOAM = Material(
    key="seat-foam",
    title="Seat foam",
    components=(Component("A", 100), Component("B", 60)),
    basis=Basis.WEIGHT,
    times=Times(pot_life_s=50, mix_s=15, pour_reserve_s=12, demold_s=1200),
    tolerance_percent=2.0,
    weigh_order=("A", "B"),
    pour_into="B",
)
SEAT_PAD = Mold("seat-pad", "Kayak seat pad", G(300))


def weigh(ingredient: str, cup: str, target: str, spread: str) -> Weigh:
    return Weigh(ingredient, cup, G(target), G(target) - G(spread), G(target) + G(spread))


TWO_CUP_STEPS: tuple[Step, ...] = (
    PlaceCup("A"),
    weigh("A", "A", "189.4", "3.7"),
    PlaceCup("B"),
    weigh("B", "B", "112.5", "2.2"),
    Combine("A", "B", G("187.5"), G("183.8"), G("191.2")),
    Mix(15),
    Pour(),
    Close(),
    Cure(),
)


def foam_plan(lot: str = "A-0417") -> CastPlan:
    """300 g of foam in two cups: 187.5 g A (1.9 g more are weighed, they cling to the cup) and 112.5 g B."""
    return CastPlan(
        material=FOAM,
        mold=SEAT_PAD,
        total=G(300),
        way=Way.TWO_CUPS,
        way_reason="the pot life is shorter than weighing takes",
        shares=(
            Share("A", "A", 0.625, G("189.4"), 2.0, stays=G("1.9")),
            Share("B", "B", 0.375, G("112.5"), 2.0),
        ),
        steps=TWO_CUP_STEPS,
        scale=ScaleCard(G("0.1"), G(3000)),
        cup=Cup(G(1000)),
        lots=(Lot("A", lot), Lot("B", "B-0093")),
        notes=("The mold was cold last time.",),
        temperature_c=21.5,
        humidity_percent=48.0,
    )


class Story:
    """Entries as the loop would write them, on a scripted clock."""

    def __init__(self, clock: ScriptedClock | None = None) -> None:
        self.clock = clock or ScriptedClock()
        self.entries: list[ev.Entry] = []

    def tell(self, event: ev.Event, after_s: float = 0.0) -> ev.Entry:
        entry = ev.Entry(event, self.clock.advance(after_s))
        self.entries.append(entry)
        return entry

    def weigh_both(self, number: int, a: str = "190.0", b: str = "112.1", lot: str = "A-0417") -> None:
        self.tell(ev.CastBegun(number, foam_plan(lot), "page"), 5)
        self.tell(ev.CupTared(number, "A", G("12.3")), 10)
        self.tell(self._accepted(number, 1, "A", a), 20)
        self.tell(ev.CupTared(number, "B", G("14.0")), 10)
        self.tell(self._accepted(number, 3, "B", b), 20)

    def combine(self, number: int, gained: str | None = "187.2") -> None:
        contact = self.clock.advance(10)
        self.tell(ev.FirstContact(number, contact, "combining"), 0.4)
        mass = None if gained is None else G(gained)
        gross = None if mass is None else G("126.1") + mass
        self.tell(ev.Combined(number, 4, "A", mass, G("187.5"), True, gross), 5.6)

    def mix_and_pour(self, number: int, mix_s: float = 17.0, early: bool = False) -> None:
        self.tell(ev.StepDone(number, 5, "pedal", early), mix_s)
        self.tell(ev.StepDone(number, 6, "pedal"), 8)
        self.tell(ev.StepDone(number, 7, "pedal"), 12)

    def cure_and_demold(self, number: int) -> None:
        self.tell(ev.AlarmRaised(number, ClockKind.DEMOLD, 0.2, "demold time reached"), 1188)
        self.tell(ev.AlarmAcknowledged(number, ClockKind.DEMOLD, "button", 25.0), 25)
        self.tell(ev.Noted(number, "Fills the corner well.", "page"), 30)
        self.tell(ev.Demolded(number, "page"), 60)

    def whole_cast(self, number: int, lot: str = "A-0417") -> None:
        self.weigh_both(number, lot=lot)
        self.combine(number)
        self.mix_and_pour(number)
        self.cure_and_demold(number)

    @staticmethod
    def _accepted(number: int, step: int, ingredient: str, net: str) -> ev.Accepted:
        planned = TWO_CUP_STEPS[step]
        assert isinstance(planned, Weigh)
        gross = G(net) + (G("12.3") if ingredient == "A" else G("14.0"))
        return ev.Accepted(
            number, step, ingredient, planned.cup, G(net), planned.target, planned.low, planned.high, gross
        )


def a_day(casts: int = 3) -> Sequence[ev.Entry]:
    """A start of the station and some casts, one after the other."""
    story = Story()
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.tell(ev.TemperatureNoted(21.5), 1)
    story.tell(ev.HumidityNoted(55.0), 1)
    for number in range(1, casts + 1):
        story.whole_cast(number)
    return tuple(story.entries)
