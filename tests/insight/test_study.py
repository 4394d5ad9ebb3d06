"""One figure over some casts: which can be compared, what is left out, and what too few figures do not say."""

import pytest

from station.errors import Refused
from station.insight.capability import Tolerance, capability
from station.insight.charted import Charted, comparable, figure_of
from station.insight.spread import spread
from station.insight.study import study
from tests.insight.made import cast

NO_LIMITS = Tolerance()


def test_a_study_is_in_the_order_of_the_casts_and_says_how_many_have_no_figure():
    casts = [cast(number, mix_s=50.0 + number) for number in (7, 3, 5, 4, 6)] + [cast(8)]
    found = study(casts, Charted.MIX, NO_LIMITS)
    assert [one.number for one in found.casts] == [3, 4, 5, 6, 7]
    assert found.values == (53.0, 54.0, 55.0, 56.0, 57.0)
    assert found.without == 1
    assert found.chart is not None
    assert found.smooth is not None
    assert found.capability is None


@pytest.mark.parametrize("charted", list(Charted))
def test_every_figure_is_read_from_its_fact(charted):
    facts = {
        Charted.RATIO: {"ratio_error": 0.012},
        Charted.DENSITY: {"density_g_cm3": 0.4},
        Charted.SHOT: {"shot_g": 160.0},
        Charted.MIX: {"mix_s": 60.0},
        Charted.CONTACT: {"contact_to_pour_s": 90.0},
        Charted.PART: {"part_g": 150.0},
    }[charted]
    (value,) = facts.values()
    assert figure_of(cast(1, **facts), charted) == pytest.approx(value * 100 if charted is Charted.RATIO else value)
    assert figure_of(cast(1), charted) is None


def test_shots_of_two_molds_are_not_charted_together_but_errors_of_the_ratio_are():
    casts = [cast(n, mold="pad" if n % 2 else "grip", ratio_error=0.01 * n, shot_g=100.0) for n in range(1, 9)]
    assert not comparable(casts, Charted.SHOT)
    found = study(casts, Charted.SHOT, NO_LIMITS)
    assert not found.comparable
    assert found.chart is None
    assert found.needs
    assert study(casts, Charted.RATIO, NO_LIMITS).chart is not None


def test_mix_times_of_two_materials_are_not_charted_together():
    casts = [cast(n, material=f"foam-{n % 2}", mix_s=60.0) for n in range(1, 9)]
    assert not study(casts, Charted.MIX, NO_LIMITS).comparable


def test_a_cast_without_the_figure_does_not_keep_others_from_being_compared():
    casts = [cast(n, mix_s=60.0) for n in range(1, 9)] + [cast(9, material="other")]
    assert study(casts, Charted.MIX, NO_LIMITS).comparable


def test_one_figure_has_no_spread():
    assert spread([1.0]) is None
    assert spread([2.0, 2.0]).lag1 is None


def test_neighbours_that_resemble_each_other_are_noticed():
    assert spread([float(n) for n in range(20)]).neighbours_alike
    assert not spread([3.0, 1.0, 2.0, 3.0, 1.0, 1.0, 3.0, 2.0, 2.0]).neighbours_alike


def test_capability_with_one_limit_has_no_cp():
    found = capability([9.0, 10.0, 11.0, 10.0, 9.5, 10.5], Tolerance(low=8.0))
    assert found.cp is None
    assert found.cpk == pytest.approx((10 - 8) / (3 * spread([9.0, 10.0, 11.0, 10.0, 9.5, 10.5]).sd))
    low, high = found.cpk_within
    assert low < found.cpk < high


def test_figures_that_break_a_limit_are_counted_and_one_on_it_is_not():
    assert capability([7.0, 8.0, 9.0, 12.0, 12.5, 10.0], Tolerance(8.0, 12.0)).outside == 2


@pytest.mark.parametrize("values", [[1.0, 2.0, 3.0, 4.0], [2.0] * 9])
def test_too_few_or_equal_figures_have_no_capability(values):
    assert capability(values, Tolerance(0.0, 5.0)) is None


def test_limits_the_wrong_way_round_are_refused():
    with pytest.raises(Refused, match="must lie below"):
        Tolerance(2.0, 1.0)
