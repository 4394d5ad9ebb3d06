"""What the bench says in whole weighings goes through the catalogue: every title, cue, warning, dial and alarm."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.core.snapshot import Snapshot
from station.core.views import snapshot
from station.errors import Refused
from tests.phone.shown import FREE, opened_station
from tests.play import CARD, FOAM, GRIP, PAD, SILICONE, Play
from tests.words.speaking import Marked, spoken
from tests.words.unsaid import names, unsaid

KNOWN = names(
    [
        *(sheet.title for sheet in (SILICONE, FOAM, PAD, GRIP)),
        *("Wrenfield Works (invented)", "pigment", "clamps", "test phone", "wrong drum", "The cable is out."),
    ]
)
"""What sheets, settings and people have told here: data."""


class Watched(Play):
    """A bench that keeps what a page would show whenever its words change."""

    def __init__(self) -> None:
        self.seen: dict[tuple[object, ...], Snapshot] = {}
        super().__init__()

    def send(self, message: msg.Message):  # type: ignore[no-untyped-def]
        try:
            return super().send(message)
        finally:
            now = snapshot(self.bench, self.now, len(self.seen) + 1, CARD)
            bench, cue = now.bench, now.last_cue
            self.seen.setdefault(
                (
                    bench and (bench.title, bench.press_means, bench.notes, bench.column and bench.column.fill),
                    cue and cue.cue,
                    now.scale.state,
                    tuple((alarm.clock, alarm.urgency) for alarm in now.alarms),
                    tuple(banner.kind for banner in now.banners),
                    tuple(cast.ready is None for cast in now.curing),
                ),
                now,
            )


def one_cup(play: Watched) -> None:
    """A whole cast from the empty pan to the part, its alarms unanswered for a while."""
    play.silicone_in_the_mold()
    for _ in range(250):
        play.wait(60, tick_s=60)
    play.send(msg.Acknowledge(1, ClockKind.DEMOLD, "page"))
    play.send(msg.Demold(1, "page"))


def two_cups(play: Watched) -> None:
    """Foam with a pigment: cups swapped and poured together, and what clings to them weighed."""
    plan = play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    cup_a = play.lift()
    play.put("13.1")
    play.pour(plan.shares[1].planned)
    play.pour(play.step.target, g_per_s=0.5)  # type: ignore[union-attr]
    play.stand(21)
    play.press()
    play.press()
    play.pour(cup_a - Mass.grams("14.3"), g_per_s=30)
    play.press()
    play.wait(60)
    play.press()
    play.lift()
    play.press()
    play.press()
    play.stand(1.5)
    play.put("14.3")
    play.press()


def too_much(play: Watched) -> None:
    """Too much of each component: what follows is worked out anew, topped up, and lost at last."""
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("215")
    play.stand(3)
    play.press()
    play.pour("26", g_per_s=3)
    play.stand(3)
    play.pour("400", g_per_s=40)
    play.stand(3)
    play.pour("300", g_per_s=40)
    play.stand(3)


def disturbed(play: Watched) -> None:
    """Another cup, something nobody saw, a pause, a lost scale, a power cut of unknown length, and giving up."""
    play.begin(SILICONE, "220", GRIP)
    play.put("2900")
    play.lift()
    play.put("24.3")
    play.pour("200")
    play.press()
    held = play.lift()
    play.put("60")
    play.lift()
    play.put(held + Mass.grams("5"))
    play.press()
    play.pour("3", g_per_s=3)
    play.press(msg.Press.LONG)
    play.press()
    play.send(msg.ScaleLost("The cable is out."))
    play.send(msg.ScaleFound("again"))
    play.wait(60)
    play.restart(30, new_boot="boot-2", trusted=False)
    play.stand()
    play.send(msg.Abort(1, "wrong drum", "page"))


@pytest.mark.parametrize("course", [one_cup, two_cups, too_much, disturbed])
def test_every_word_of_a_weighing_is_said_through_the_catalogue(course: Callable[[Watched], None]):
    wrong: dict[str, list[str]] = {}
    with spoken(Marked()):
        play = Watched()
        course(play)
        said = [cue.words for cue in play.cues]
        with opened_station() as station:
            visitor = station.paired()
            for seen in play.seen.values():
                station.post(seen)
                for page in ("/", "/curing"):
                    for words in unsaid(visitor.look(page), KNOWN):
                        wrong.setdefault(words, []).append(page)
    assert len(play.seen) > 10
    assert wrong == {}
    assert [words for words in said if unsaid(words, KNOWN)] == []


def test_what_the_bench_refuses_is_said_through_the_catalogue():
    with spoken(Marked()):
        play = Play()
        play.begin(SILICONE, "220", GRIP)
        plan = play.cast.plan
        wrong = []
        for refused in (
            msg.BeginCast(plan, "page"),
            msg.Abort(1, " ", "page"),
            msg.Abort(7, "why", "page"),
            msg.Demold(1, "page"),
            msg.Demold(7, "page"),
            msg.Acknowledge(1, ClockKind.DEMOLD, "page"),
        ):
            with pytest.raises(Refused) as refusal:
                play.send(refused)
            wrong += unsaid(refusal.value.sentence(), KNOWN)
    assert wrong == []


def test_a_bench_that_speaks_english_all_the_same_would_be_found():
    with opened_station() as station:
        station.post(FREE)
        visitor = station.paired()
        assert any("free" in words for words in unsaid(visitor.look("/"), KNOWN))
