"""When a cure is over: the slowest counts, the fastest is told, and neither is made up.

Arrhenius by hand: at 30 °C against 23 °C, exp(-Ea/R (1/303.15 - 1/296.15)) is 1.2061 for 20 kJ/mol and 1.9274 for
70 kJ/mol (R = 8.314462618 J/mol K).
"""

import math
from dataclasses import replace
from datetime import timedelta

import pytest

from station.casting.chemistry import Chemistry
from station.core import messages as msg
from station.core.views import snapshot
from tests.play import CARD, GRIP, SILICONE, Play

URETHANE = replace(SILICONE, chemistry=Chemistry.URETHANE_RUBBER)


def curing(celsius, material=URETHANE, waited_s=0.0):
    play = Play()
    if celsius is not None:
        play.send(msg.Temperature(celsius))
    play.begin(material, "220", GRIP)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("20.0", g_per_s=3)
    play.wait(181)
    play.press()
    play.press()
    while play.standing.bench is not None:
        play.press()
    play.wait(waited_s, tick_s=60)
    return play


def view(play):
    return snapshot(play.bench, play.now, 1, CARD).curing[0].ready


def test_a_range_of_energies_gives_a_soonest_and_a_latest():
    play = curing(30.0)
    ready = view(play)
    assert ready.surely_s == pytest.approx(14400 / 1.2061, rel=1e-3)
    assert ready.soonest_s == pytest.approx(14400 / 1.9274, rel=1e-3)
    assert ready.surely - play.wall == timedelta(seconds=ready.surely_s)
    assert ready.soonest - play.wall == timedelta(seconds=ready.soonest_s)


def test_the_soonest_counts_what_has_passed_at_the_fastest_too():
    ready = view(curing(30.0, waited_s=3600))
    assert ready.age_s == pytest.approx(3600 * 1.2061, rel=1e-3)
    assert ready.soonest_s == pytest.approx(14400 / 1.9274 - 3600, rel=1e-3)


def test_where_the_energy_is_known_there_is_no_range():
    known = replace(URETHANE, times=replace(URETHANE.times, activation_kj=50.0))
    assert view(curing(30.0, known)).soonest_s is None


def test_without_a_temperature_time_counts_as_it_is():
    ready = view(curing(None))
    assert (ready.celsius, ready.soonest_s) == (None, None)
    assert ready.surely_s == pytest.approx(14400, abs=1)


def test_too_cold_there_is_no_time_at_all():
    cold = replace(URETHANE, times=replace(URETHANE.times, coldest_c=15.0))
    ready = view(curing(10.0, cold))
    assert math.isinf(ready.surely_s)
    assert (ready.surely, ready.soonest) == (None, None)


def test_a_part_that_is_out_waits_for_nothing():
    play = curing(30.0, replace(URETHANE, times=replace(URETHANE.times, full_cure_s=86400)))
    play.send(msg.Demold(1, "page"))
    assert view(play) is None
