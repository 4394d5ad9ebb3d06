"""Clocks across wall steps, restarts and power cuts."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.alarms import urgency
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Urgency
from station.core.mass import Mass
from station.core.moment import Moment, gap_s
from station.core.snapshot import ScaleState
from station.core.steps import Mix, Weigh
from station.core.timing import age_s
from station.core.views import snapshot
from tests.play import CARD, DAY, GRIP, SILICONE, Play, replay_equals_live


def mixing() -> Play:
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    play.pour("20", g_per_s=3)
    assert isinstance(play.step, Mix)
    return play


def curing() -> Play:
    play = mixing()
    play.wait(200)
    for _ in ("mixed", "poured", "emptied cup not weighed"):
        play.press()
    return play


def age(play: Play, kind: ClockKind) -> float:
    clock = play.cast.clock(kind)
    return age_s(clock, play.now, 1.0)


@pytest.mark.parametrize("jump_days", [-30, -1 / 24, 1 / 24, 3650])
def test_a_step_of_the_wall_clock_moves_no_clock(jump_days):
    from datetime import timedelta

    play = mixing()
    before = age(play, ClockKind.POT_LIFE)
    play.wall += timedelta(days=jump_days)
    play.send(msg.Tick())
    assert age(play, ClockKind.POT_LIFE) == before
    assert play.events(ev.AlarmRaised) == []


def test_a_restart_in_the_same_boot_loses_no_second():
    play = mixing()
    before = age(play, ClockKind.POT_LIFE)
    play.restart(off_s=7)
    assert age(play, ClockKind.POT_LIFE) == pytest.approx(before + 7)
    assert replay_equals_live(play)


def test_what_fell_due_while_the_station_was_off_sounds_at_once():
    play = curing()
    play.restart(off_s=15000, new_boot="boot-2")
    assert play.cast.clock(ClockKind.DEMOLD).state is AlarmState.SOUNDING
    raised = play.events(ev.AlarmRaised)[0]
    assert raised.late_s == pytest.approx(600, abs=5)


def test_a_known_power_cut_counts_in_full_for_cure():
    play = curing()
    before = age(play, ClockKind.DEMOLD)
    last = play.entries[-1].at
    play.restart(off_s=3600, new_boot="boot-2")
    assert age(play, ClockKind.DEMOLD) == pytest.approx(before + gap_s(last, play.now), abs=0.01)


def test_an_unknown_power_cut_uses_up_the_pot_life_and_gives_the_cure_nothing():
    play = mixing()
    play.wait(30)
    play.restart(off_s=20, new_boot="boot-2", trusted=False)
    assert play.cast.clock(ClockKind.POT_LIFE).state is AlarmState.SOUNDING
    assert play.cast.clock(ClockKind.POT_LIFE).unknown_gap
    words = snapshot(play.bench, play.now, 1, CARD).alarms[0].words
    assert "unknown time" in words
    play = curing()
    before = age(play, ClockKind.DEMOLD)
    play.restart(off_s=36000, new_boot="boot-2", trusted=False)
    assert age(play, ClockKind.DEMOLD) <= before
    assert play.cast.clock(ClockKind.DEMOLD).state is AlarmState.WAITING
    assert "may be ready sooner" in snapshot(play.bench, play.now, 1, CARD).curing[0].words


def test_a_wall_clock_that_ran_backwards_between_boots_is_an_unknown_gap():
    late = Moment(5.0, "two", DAY, True)
    early = Moment(900.0, "one", DAY.replace(hour=9), True)
    assert gap_s(early, late) is None


def test_an_alarm_grows_stronger_after_a_minute_and_sounds_again_after_a_restart():
    play = curing()
    play.wait(14400, tick_s=60)
    play.wait(60)
    assert urgency(play.standing, play.now) is Urgency.STRONG
    play.restart(off_s=2)
    assert urgency(play.standing, play.now) is Urgency.STRONG
    play.press()
    assert urgency(play.standing, play.now) is Urgency.CALM


def test_after_a_restart_in_mid_pour_the_cup_is_recognised_and_weighing_goes_on():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("120")
    play.restart(off_s=4)
    assert isinstance(play.step, Weigh)
    play.stand(3)
    play.pour("80")
    assert play.cast.accepted[0].net == Mass.grams("200")


def test_a_contact_nobody_saw_because_the_station_died_counts_from_the_safe_side():
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    since = play.cast.since
    play.load = play.load + Mass.grams("8")
    play.restart(off_s=30)
    play.stand(3)
    assert play.events(ev.FirstContact)[0].at == since


def test_several_casts_cure_at_once_and_each_rings_for_itself():
    play = curing()
    play.wait(600)
    play.begin(SILICONE, "110", GRIP)
    play.put("24.3")
    play.pour("100")
    play.press()
    play.pour("10", g_per_s=2)
    play.wait(200)
    play.press()
    play.press()
    assert len(play.standing.casts) == 2
    play.wait(14400 - 700, tick_s=20)
    rings = [(raised.number, raised.clock) for raised in play.events(ev.AlarmRaised)]
    assert rings == [(1, ClockKind.DEMOLD)]
    play.wait(800, tick_s=20)
    rings = [(raised.number, raised.clock) for raised in play.events(ev.AlarmRaised)]
    assert rings == [(1, ClockKind.DEMOLD), (2, ClockKind.DEMOLD)]


def test_a_demold_alarm_does_not_take_the_press_that_a_mix_needs():
    play = curing()
    play.wait(14000, tick_s=50)
    play.begin(SILICONE, "110", GRIP)
    play.put("24.3")
    play.pour("100")
    play.press()
    play.pour("10", g_per_s=2)
    play.wait(500)
    assert play.standing.cast(1).clock(ClockKind.DEMOLD).state is AlarmState.SOUNDING
    play.press()
    assert play.standing.cast(1).clock(ClockKind.DEMOLD).state is AlarmState.SOUNDING
    assert type(play.standing.bench.step).__name__ == "Pour"


def test_the_number_goes_grey_then_blank_when_the_scale_falls_silent():
    play = Play()
    play.put("50")
    states = []
    for seconds in (0.0, 1.6, 4.0):
        play.pass_s(seconds)
        view = snapshot(play.bench, play.now, 1, CARD).scale
        states.append((view.state, view.gross))
    assert states == [
        (ScaleState.LIVE, Mass.grams("50")),
        (ScaleState.STALE, Mass.grams("50")),
        (ScaleState.BLANK, None),
    ]
