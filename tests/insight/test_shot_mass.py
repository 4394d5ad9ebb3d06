"""The shot for a density: right where the law is known, with an interval that holds, refused where unclear."""

import numpy as np
import pytest

from station.core.judging_events import DefectKind
from station.errors import Refused
from station.insight.shot_mass import Law, Shot, shot_for_density
from tests.benchmarks.advice import WARM_LAW, shot_errors
from tests.insight.made import cast, defect


def full(number, mixed, density, **other):
    return cast(number, mixed_g=mixed, density_g_cm3=density, **other)


def test_the_shot_follows_by_proportion():
    found = shot_for_density([full(1, 58.0, 0.116), full(2, 60.0, 0.1201), full(3, 63.0, 0.1259)], 0.124)
    assert (found.shot, found.law, found.casts) == (Shot.MIXED, Law.PROPORTIONAL, (1, 2, 3))
    k = (58 * 0.116 + 60 * 0.1201 + 63 * 0.1259) / (58**2 + 60**2 + 63**2)  # least squares through the origin
    assert found.shot_g == pytest.approx(0.124 / k)
    assert found.low_g < found.shot_g < found.high_g
    assert found.next_low < 0.124 < found.next_high
    assert not found.outside


def test_the_mass_in_the_mold_counts_where_cups_were_weighed():
    casts = [full(n, 60.0 + n, 0.12 + 0.002 * n, shot_g=58.0 + n) for n in range(1, 5)]
    assert shot_for_density(casts, 0.125).shot is Shot.IN_MOLD
    assert shot_for_density([*casts[:1], *(full(n, 60.0 + n, 0.12 + 0.002 * n) for n in range(2, 9))], 0.125).casts[1:]


def test_short_shots_tell_nothing_of_density():
    casts = [full(n, 60.0 + n, 0.12 + 0.002 * n) for n in range(1, 4)]
    short = full(4, 50.0, 0.2, defects=(defect(DefectKind.SHORT_SHOT),))
    assert shot_for_density([*casts, short], 0.125).casts == (1, 2, 3)


def test_an_offset_is_taken_in_when_it_is_clear():
    draw = np.random.default_rng(1)
    casts = [full(n, g, 0.03 + 0.0015 * g + draw.normal(0, 2e-4)) for n, g in enumerate(range(50, 66), 1)]
    found = shot_for_density(casts, 0.12)
    assert found.law is Law.LINE
    assert found.shot_g == pytest.approx(60.0, abs=0.3)


def test_temperature_is_taken_in():
    draw = np.random.default_rng(2)
    degrees = draw.normal(20, 3, 20)
    casts = [
        full(n, 60.0 + n % 5, 0.002 * (60 + n % 5) + 0.001 * (c - 20) + draw.normal(0, 5e-4), temperature_c=float(c))
        for n, c in enumerate(degrees, 1)
    ]
    cold, warm = shot_for_density(casts, 0.124, 15.0), shot_for_density(casts, 0.124, 25.0)
    assert cold.law is Law.PROPORTIONAL_WARM
    assert cold.celsius == 15.0
    assert cold.shot_g - warm.shot_g == pytest.approx(5.0, abs=0.5)  # 10 °C x 0.001 / 0.002
    assert shot_for_density(casts, 0.124).celsius is None


def test_a_shot_outside_what_was_cast_is_said_to_be_so():
    casts = [full(n, 60.0 + n, 0.12 + 0.002 * n) for n in range(1, 4)]
    assert shot_for_density(casts, 0.16).outside


def test_too_few_parts_or_too_wild_ones_are_refused():
    with pytest.raises(Refused, match="2 full parts"):
        shot_for_density([full(1, 60.0, 0.12), full(2, 61.0, 0.12)], 0.12)
    with pytest.raises(Refused, match="do not tell"):
        shot_for_density([full(1, 60.0, 0.02), full(2, 60.0, 0.6), full(3, 60.0, 0.01)], 0.12)


@pytest.mark.parametrize("casts", [3, 10])
def test_the_interval_holds_in_simulated_workshops(casts):
    # 95 % are promised; of 150 workshops fewer than 135 would hold in 1 of 100 such runs. The benchmark has more.
    off, best, held = shot_errors(150, casts, WARM_LAW)
    assert held.bad >= 135
    assert off < 1.8 * best
