"""The budget of a weighing: laws it must obey, a simulated scale, and an independent propagation."""

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from station.errors import Refused
from station.metrology.promise import ScalePromise
from station.metrology.uncertainty import (
    drift_u_g,
    net_budget,
    ratio_uncertainty,
    rectangular,
    smallest_holdable_g,
)

masses = st.floats(0.5, 5000)
small = st.floats(1e-6, 5)
steps = st.sampled_from([0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0])
shares = st.floats(0, 0.02)


@st.composite
def promises(draw):
    return ScalePromise(draw(steps), 1e6, draw(small), draw(small), draw(shares), draw(shares), draw(shares))


@given(masses, small, masses, small)
def test_a_ratio_propagates_as_the_uncertainties_package_says(a, u_a, b, u_b):
    ours, theirs = ratio_uncertainty(a, u_a, b, u_b), ufloat(a, u_a) / ufloat(b, u_b)
    assert ours.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert ours.u == pytest.approx(theirs.std_dev, rel=1e-9, abs=1e-15)


@given(st.floats(5, 5000), st.floats(5, 5000), st.floats(0.001, 2))
def test_a_reading_shared_by_both_parts_propagates_as_the_uncertainties_package_says(a, b, u):
    first, between, last = ufloat(0, u), ufloat(a, u), ufloat(a + b, u)
    theirs = (between - first) / (last - between)
    ours = ratio_uncertainty(a, math.sqrt(2) * u, b, math.sqrt(2) * u, shared_reading_u=u)
    assert ours.u == pytest.approx(theirs.std_dev, rel=1e-6)


@given(masses, masses, st.floats(0.0001, 0.05))
def test_a_common_error_of_sensitivity_cancels_in_a_ratio(a, b, u):
    sensitivity = ufloat(1, u)
    assert ((sensitivity * a) / (sensitivity * b)).std_dev == pytest.approx(0, abs=1e-12)
    sure, unsure = ScalePromise(0.1, 1e4), ScalePromise(0.1, 1e4, sensitivity_u=u, sensitivity_error=u)
    assert unsure.ratio(a, b) == sure.ratio(a, b)
    assert unsure.u_g(a) > sure.u_g(a)


def test_a_simulated_scale_scatters_as_the_budget_says():
    rng = random.Random(76)  # seeded: the same draw every time
    d, net, noise, drift, sensitivity, position = 0.1, 80.0, 0.05, 0.08, 0.0008, 0.0005

    def shown(felt):
        return math.floor(felt / d + 0.5) * d

    errors = []
    for _ in range(40_000):
        zero = rng.uniform(-5, 5)  # the cup: any load to begin with
        true = net + rng.uniform(-d, d)  # no special place between two steps of the display
        felt = zero + true * (1 + rng.gauss(0, sensitivity) + rng.gauss(0, position))
        felt += rng.gauss(0, noise) + rng.uniform(-drift, drift)
        errors.append(shown(felt) - shown(zero) - true)
    budget = net_budget(
        net,
        readability_g=d,
        repeatability_g=math.hypot(noise, d / math.sqrt(6)),  # s as displayed holds the rounding too
        drift_u_g=rectangular(drift),
        sensitivity_u=sensitivity,
        position_u=position,
    )
    assert statistics.fmean(errors) == pytest.approx(0, abs=0.003)
    assert statistics.pstdev(errors) == pytest.approx(budget.combined_g, rel=0.015)
    inside = sum(abs(error) <= budget.expanded_g() for error in errors) / len(errors)
    assert inside == pytest.approx(0.954, abs=0.01)  # normal distribution, k = 2


def test_a_simulated_mix_in_one_cup_scatters_as_its_ratio_says():
    rng = random.Random(100)
    d, part_a, part_b = 0.1, 20.0, 8.0
    errors = []
    for _ in range(40_000):
        cup, a, b = rng.uniform(10, 20), part_a + rng.uniform(-d, d), part_b + rng.uniform(-d, d)
        first, between, last = (math.floor(load / d + 0.5) * d for load in (cup, cup + a, cup + a + b))
        errors.append(100 * ((between - first) / (last - between) / (a / b) - 1))
    ratio = ScalePromise(d, 1000).ratio(part_a, part_b)
    assert statistics.pstdev(errors) == pytest.approx(ratio.relative_percent, rel=0.02)


@given(promises(), masses, masses)
def test_a_heavier_part_is_less_sure_in_grams_and_surer_in_per_cent(promise, one, other):
    light, heavy = sorted((one, other))
    assert promise.u_g(light) <= promise.u_g(heavy) * (1 + 1e-12)
    assert promise.u_g(heavy) / heavy <= promise.u_g(light) / light * (1 + 1e-12)


@given(promises(), masses, st.floats(1.01, 3))
def test_more_of_any_contribution_never_makes_a_weighing_surer(promise, net, factor):
    before = promise.budget(net)
    for field in ("repeatability_g", "drift_u_g", "sensitivity_u", "position_u", "readability_g"):
        values = {name: getattr(promise, name) for name in promise.__dataclass_fields__}
        worse = ScalePromise(**(values | {field: values[field] * factor}))
        assert worse.u_g(net) >= before.combined_g * (1 - 1e-12)


@given(promises(), st.floats(0.1, 10), st.floats(0.1, 10))
def test_a_wider_tolerance_never_asks_for_more_mass(promise, one, other):
    tight, wide = sorted((one, other))
    at_tight, at_wide = promise.smallest_g(tight), promise.smallest_g(wide)
    assert at_tight is None or (at_wide is not None and at_wide <= at_tight * (1 + 1e-9))


@given(promises(), st.floats(0.1, 10))
def test_the_smallest_mass_lies_exactly_on_the_tolerance(promise, percent):
    least = promise.smallest_g(percent)
    mass = promise.maximum_g if least is None else least
    used = 2 * promise.u_g(mass) + abs(promise.sensitivity_error) * mass
    if least is None:
        assert used > percent / 100 * mass * (1 - 1e-9)
    else:
        assert used == pytest.approx(percent / 100 * mass, rel=1e-6)


def test_no_mass_holds_a_tolerance_that_the_sensitivity_alone_uses_up():
    assert smallest_holdable_g(1, absolute_u_g=0.041, relative_u=0.005) is None
    assert smallest_holdable_g(1, absolute_u_g=0.041, relative_error=-0.01) is None
    assert "cannot be shown to hold" in ScalePromise(0.1, 3000, sensitivity_error=0.02).sentence(1)


def test_a_scale_says_its_smallest_part_rounded_up_to_what_it_can_show():
    assert ScalePromise(0.1, 3000).sentence(1) == "A part held to ± 1 % needs at least 8.2 g on this scale."
    assert ScalePromise(1, 3000).sentence(0.7) == "A part held to ± 0.7 % needs at least 118 g on this scale."


def test_what_a_ratio_leaves_to_the_hand_that_pours():
    # By hand: 100 : 3 at d = 0.1 g, u = 0.041 g each, k = 2: 2.7345 % of the ratio; more with the shared reading.
    promise = ScalePromise(0.1, 3000)
    assert promise.ratio_margin_percent(100, 3, 3, one_cup=False) == pytest.approx(0.2654, abs=1e-4)
    assert promise.ratio_margin_percent(100, 3, 3) < 0.2654
    assert promise.ratio_margin_percent(100, 3, 1) < 0


def test_contributions_are_named_and_add_as_squares():
    budget = net_budget(
        100, readability_g=0.1, repeatability_g=0.05, drift_u_g=0.03, sensitivity_u=0.001, position_u=0.0004
    )
    parts = dict(budget.named())
    assert parts["rounding of two readings"] == pytest.approx(0.041)
    assert parts["sensitivity of the scale"] == pytest.approx(0.1)
    assert parts["place of the load on the pan"] == pytest.approx(0.04)
    assert budget.combined_g**2 == pytest.approx(0.05**2 + 0.03**2 + 0.1**2 + 0.04**2)
    assert budget.random_g**2 == pytest.approx(budget.combined_g**2 - 0.1**2)


def test_drift_counts_over_the_time_of_one_weighing():
    assert drift_u_g(-9, 40) == pytest.approx(0.1 / math.sqrt(3))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: ScalePromise(0, 100), "readability d is 0 g; it must be above zero"),
        (lambda: ScalePromise(1, 0.5), "reads to 1 g cannot end at 0.5 g"),
        (lambda: ScalePromise(0.1, 100, repeatability_g=-1), "repeatability is -1 g"),
        (lambda: ScalePromise(0.1, 100, sensitivity_error=math.nan), "error of the sensitivity is nan"),
        (lambda: ScalePromise(0.1, 100).u_g(-3), "net mass is -3 g"),
        (lambda: ratio_uncertainty(1, 0.1, 0, 0.1), "second quantity is 0"),
        (lambda: ratio_uncertainty(1, 0.1, 1, 0.1, shared_reading_u=0.2), "larger than that of a whole weighing"),
        (lambda: drift_u_g(1, 0), "time of one weighing is 0 s"),
    ],
)
def test_figures_that_no_scale_has_are_refused_in_a_sentence(call, words):
    with pytest.raises(Refused, match=words):
        call()
