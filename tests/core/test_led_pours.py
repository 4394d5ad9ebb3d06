"""Led pours at the whole pure bench: pace, stop, a little more, what is learned, and the practice with water."""

from __future__ import annotations

from dataclasses import replace

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.cues import Cue
from station.core.guidance.task import Leading, Strength
from station.core.known_pours import card_source, known
from station.core.leading import pace_now, stop_due_s
from station.core.mass import Mass
from station.core.pouring_messages import BeginPractice, EndPractice, ForgetPours
from station.errors import Refused
from tests.core.guidance.hands import task
from tests.play import CARD, FOAM, SILICONE, Play, replay_equals_live


class Poured(Play):
    """A play whose hand follows the pace, and closes `late_s` after a stop."""

    def follow(self, coarse: float = 8.0, least: float = 0.5, late_s: float = 0.4, most_s: float = 60.0) -> None:
        """Pour until the step or the pour of the practice is over."""
        place, done, began = self.place(), self.done(), self.boot_s
        stopped_s, count, past = None, len(self.cues), [self.load.g]
        load, pace = self.load.g, 0.0
        while (self.place(), self.done()) == (place, done) and self.boot_s - began < most_s:
            told = pace_now(self.standing, self.bench.pan, self.now)
            pace = pace if told is None else told
            for say in self.cues[count:]:
                stopped_s = self.boot_s if say.cue is Cue.STOP else stopped_s
                if say.words.startswith("A little more"):
                    stopped_s = None
            count = len(self.cues)
            if stopped_s is None or self.boot_s < stopped_s + late_s:
                load += self.period_s * max(least, coarse * (1 - pace))
            past.append(load)
            self.load = Mass.nearest(past[max(0, len(past) - 4)])
            due = stop_due_s(self.standing, self.bench.pan, self.now)
            if due is not None and due < self.period_s:
                self.pass_s(due)
                self.send(msg.Tick())
                self.boot_s -= due
            self.frame(moving=past[-1] != past[max(0, len(past) - 8)])
        self.load = Mass.nearest(load)

    def place(self) -> int:
        cast = self.standing.bench
        return -1 if cast is None else cast.position

    def done(self) -> int:
        practice = self.bench.pan.practice
        return -1 if practice is None else len(practice.done)


@pytest.fixture
def play() -> Poured:
    return Poured()


def weighed(play: Poured) -> ev.Accepted:
    play.follow()
    accepted = play.events(ev.Accepted)[-1]
    assert isinstance(accepted, ev.Accepted)
    return accepted


def test_a_hand_that_follows_is_stopped_in_its_window_and_the_pour_is_a_lesson(play: Poured) -> None:
    play.begin(SILICONE, "220")
    play.put("24.3")
    accepted = weighed(play)
    assert accepted.low <= accepted.net <= accepted.high
    lesson = play.standing.pours[-1]
    assert (lesson.material, lesson.ingredient, lesson.target) == ("silicone", "A", Mass.grams("200.0"))
    assert lesson.flow_g_s is not None
    assert lesson.came_g is not None
    assert play.said().count("STOP") == 1
    assert replay_equals_live(play)


def test_cup_into_cup_is_led_and_its_lessons_are_its_own(play: Poured) -> None:
    plan = play.begin(FOAM, "160")
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    play.lift()
    play.put("13.1")
    play.pour(play.step.target)
    play.pour(play.step.target, g_per_s=0.5)
    play.wait(21)
    play.press()
    play.press()
    play.stand(2)
    lessons, stops = len(play.standing.pours), play.said().count("STOP")
    play.follow(coarse=30.0)
    combined = play.events(ev.Combined)[0]
    assert isinstance(combined, ev.Combined)
    assert combined.within
    assert play.said().count("STOP") == stops + 1
    lesson = play.standing.pours[-1]
    assert len(play.standing.pours) == lessons + 1
    assert (lesson.material, lesson.ingredient, lesson.target) == ("foam", "A → B", combined.target)
    assert lesson.came_g is not None
    assert replay_equals_live(play)


def test_the_stop_comes_between_two_readings_where_these_are_rare() -> None:
    play = Poured(rate_hz=5.0)
    play.begin(SILICONE, "220")
    play.put("24.3")
    weighed(play)
    stop = play.standing.pours[-1]
    assert stop.flow_g_s is not None


def test_what_is_learned_changes_the_next_pour_and_survives_a_restart(play: Poured) -> None:
    play.begin(SILICONE, "220")
    play.put("24.3")
    weighed(play)
    goal, source = task(200.0), card_source("silicone", "A", CARD)
    before = known((), source, goal)
    after = known(play.standing.pours, source, goal)
    assert after.pours == 1
    assert after.runon != before.runon
    play.restart()
    assert known(play.standing.pours, source, goal) == after
    other = known(play.standing.pours, card_source("silicone", "B", CARD), goal)
    assert other.pours == 0
    assert other.runon.time_s == pytest.approx(after.runon.time_s)
    assert known(play.standing.pours, replace(source, lag_s=1.0), goal) == before


def test_what_was_learned_wrong_can_be_forgotten(play: Poured) -> None:
    with pytest.raises(Refused):
        play.send(ForgetPours("", "", True, "test"))
    play.begin(SILICONE, "220")
    play.put("24.3")
    weighed(play)
    play.send(ForgetPours("silicone", "B", False, "test"))
    assert len(play.standing.pours) == 1
    play.send(ForgetPours("silicone", "A", False, "test"))
    assert play.standing.pours == ()
    assert replay_equals_live(play)


def test_too_little_is_asked_for_and_poured_as_a_dribble(play: Poured) -> None:
    play.begin(SILICONE, "220")
    play.put("24.3")
    play.follow(late_s=-0.2, coarse=12.0, least=6.0)
    accepted = play.events(ev.Accepted)[-1]
    assert isinstance(accepted, ev.Accepted)
    assert accepted.net >= accepted.low
    more = [say for say in play.cues if say.words.startswith("A little more")]
    if more:
        assert play.standing.pours[-1].dribbles or play.said().count("STOP") > 1


def test_led_or_not_a_moving_load_is_never_accepted_and_the_same_window_holds(play: Poured) -> None:
    for on in (True, False):
        play = Poured()
        play.bench = replace(play.bench, leading=Leading(on, Strength.EVEN))
        play.begin(SILICONE, "220")
        play.put("24.3")
        play.pour("200.0", g_per_s=20)
        accepted = play.events(ev.Accepted)
        assert len(accepted) == 1
        assert len(play.standing.pours) == (1 if on else 0)


def test_without_leading_no_pace_is_heard(play: Poured) -> None:
    play.bench = replace(play.bench, leading=Leading(on=False))
    play.begin(SILICONE, "220")
    play.put("24.3")
    for _ in range(40):
        play.load = Mass(play.load.mg + 800)
        play.frame(moving=True)
        assert pace_now(play.standing, play.bench.pan, play.now) is None
        assert stop_due_s(play.standing, play.bench.pan, play.now) is None


def test_the_pace_is_silent_without_a_cup_while_paused_and_when_the_scale_is_silent(play: Poured) -> None:
    assert pace_now(play.standing, play.bench.pan, play.now) is None
    play.begin(SILICONE, "220")
    play.put("24.3")
    assert pace_now(play.standing, play.bench.pan, play.now) == 0.0
    play.press(msg.Press.LONG)
    assert pace_now(play.standing, play.bench.pan, play.now) is None
    play.press(msg.Press.LONG)
    assert pace_now(play.standing, play.bench.pan, play.now) == 0.0
    play.pass_s(3.0)
    assert pace_now(play.standing, play.bench.pan, play.now) is None


# --- practice
WATER = BeginPractice(Mass.grams(50), 2.0, 3, CARD, "test")


def test_water_is_poured_as_often_as_wished_and_teaches(play: Poured) -> None:
    play.send(WATER)
    play.put("31.0")
    assert play.said()[-1] == "TARED"
    for _ in range(3):
        play.follow()
    practice = play.bench.pan.practice
    assert practice is not None
    assert practice.over
    assert all(practice.low <= net <= practice.high for net in practice.done)
    assert [pour.ingredient for pour in play.standing.pours] == ["", "", ""]
    assert known(play.standing.pours, card_source("silicone", "A", CARD), task(200.0)).runon.time_s > 0
    assert pace_now(play.standing, play.bench.pan, play.now) is None
    play.send(EndPractice("test"))
    assert play.bench.pan.practice is None
    assert replay_equals_live(play)


def test_a_cup_that_is_emptied_in_between_is_tared_anew(play: Poured) -> None:
    play.send(WATER)
    play.put("31.0")
    play.follow()
    play.lift()
    play.put("29.0")
    assert play.said()[-1] == "TARED"
    play.follow()
    assert play.done() == 2


def test_a_cast_that_begins_ends_the_practice_and_none_begins_beside_a_cast(play: Poured) -> None:
    play.send(WATER)
    play.begin(SILICONE, "220")
    assert play.bench.pan.practice is None
    with pytest.raises(Refused):
        play.send(WATER)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"target": Mass.grams(5), "percent": 1.0}, "finer"),
        ({"target": Mass.grams(9000)}, "cannot weigh"),
        ({"target": Mass.grams(0)}, "cannot weigh"),
        ({"times": 0}, "1 to 50"),
        ({"percent": 0.0}, "between 0 and 20"),
        ({"percent": 21.0}, "between 0 and 20"),
        ({"percent": float("nan")}, "between 0 and 20"),
    ],
)
def test_what_cannot_be_practised_is_refused_with_the_reason(
    play: Poured, change: dict[str, object], said: str
) -> None:
    with pytest.raises(Refused, match=said):
        play.send(replace(WATER, **change))  # type: ignore[arg-type]
