"""The figures of a scale check and what is refused on the way; figures by hand unless a source is named."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import Refused
from station.metrology.check import due_date, measured
from station.metrology.classes import AccuracyClass, corner_load_g
from station.metrology.figures import Against, LimitFrom, drift_g_per_h, worst_corner
from station.metrology.readings import Corners, DriftSeries, Placements, Plate, Stream, WeightReading, ZeroReturns
from station.metrology.weights import Certified, CheckWeight, OfClass, WeightClass, coarsest_class
from tests.metrology.bench import FLOWING, readings, weight


def test_a_check_measures_everything_that_was_read():
    found = measured(readings())
    assert found.repeatability_g == 0
    assert found.zero_return_g == 0
    assert found.corner_spread_g == pytest.approx(0.1)
    assert found.drift_g_per_h == pytest.approx(0)
    assert found.settling_s == 2.4
    assert found.update_hz == pytest.approx(10)
    assert found.readability is not None
    assert str(found.readability.step) == "0.1"
    # Heaviest weight: 0.1 g in 2 kg; u from M1 of 2 kg, 100 mg (OIML R 111-1:2004, Table 1), and 0.41 d.
    assert found.promise.sensitivity_error == pytest.approx(0.1 / 2000)
    assert found.promise.sensitivity_u == pytest.approx(math.hypot(0.1 / math.sqrt(3), 0.041) / 2000)
    assert found.promise.position_u == pytest.approx(0.1 / (2 * 1000 * math.sqrt(3)))


def test_the_error_at_a_check_weight_is_freed_of_zero_and_held_against_the_class_in_service():
    given_ = readings(
        readability_g=1,
        weights=(WeightReading(weight(1000), (1002, 1002), zero_g=1),),
        plate=Plate(AccuracyClass.III, 1),
        stream=None,
    )
    (finding,) = measured(given_).weights
    assert finding.error_g == pytest.approx(1)
    # OIML R 76-1:2006, Table 6 and 3.5.2: 1 000 e of class III, 2 x 1 e.
    assert (finding.limit.g, finding.limit.source) == (2, LimitFrom.CLASS)
    assert finding.against is Against.WITHIN
    assert finding.good_enough


def test_without_a_class_the_limit_is_a_third_of_the_tolerance_but_never_finer_than_the_display():
    assert readings().limit_at(2000).g == pytest.approx(20 / 3)
    assert readings().limit_at(5).g == 0.1
    assert readings().limit_at(5).source is LimitFrom.TOLERANCE


def test_small_weights_refine_the_reading_of_a_coarse_display():
    coarse = readings(readability_g=5, weights=(WeightReading(weight(1000), (1000,), turned_after_g=1.5),), stream=None)
    (finding,) = measured(coarse).weights
    assert finding.error_g == pytest.approx(1)  # OIML R 76-1:2006, A.4.4.3: P = 1001 g
    (plain,) = measured(readings(readability_g=5, weights=(WeightReading(weight(1000), (1000,)),), stream=None)).weights
    assert finding.u_g < plain.u_g


def test_more_readings_of_a_weight_make_a_scattering_scale_surer_but_never_surer_than_its_rounding():
    scatter = Placements((200.0, 201.0, 199.0, 200.5, 199.5))
    us = []
    for times in (1, 4, 10_000):
        one = WeightReading(weight(), (200.0,) * times)
        (finding,) = measured(readings(weights=(one,), placements=scatter)).weights
        us.append(finding.u_g)
    # GUM 4.2.3: only what scatters beyond rounding shrinks, with the root of the number of readings.
    rounding = math.hypot(0.041, weight().u_g)
    beyond = [math.sqrt(u * u - rounding * rounding) for u in us]
    assert beyond[0] / beyond[1] == pytest.approx(2)
    assert us[-1] == pytest.approx(rounding, rel=0.05)


def test_a_weight_counts_by_its_class_or_by_its_certificate():
    by_class = CheckWeight(200, OfClass(WeightClass.M1))
    assert (by_class.value_g, by_class.bound_g) == (200, 0.01)
    assert by_class.u_g == pytest.approx(0.01 / math.sqrt(3))  # GUM 4.3.7
    certified = CheckWeight(200, Certified(200.0123, 0.002))
    assert (certified.value_g, certified.bound_g, certified.u_g) == (200.0123, 0.002, 0.001)  # GUM 4.3.3
    assert coarsest_class(200, 0.01) is WeightClass.M1
    assert coarsest_class(200, 0.0001) is None


def test_drift_is_the_slope_whatever_the_first_reading():
    assert drift_g_per_h(DriftSeries(((10, 50.0), (1810, 50.5), (3610, 51.0)))) == pytest.approx(1.0)


def test_the_worst_corner_is_the_one_farthest_from_the_middle():
    assert worst_corner(Corners(100, 100, 100.1, 99.7, 100.2, 100)) == ("back", pytest.approx(-0.3))


def test_the_promise_counts_with_the_step_that_the_display_really_shows():
    halves = ("0.0", "0.5", "1.5", "3.0", "7.5", "9.5", "20.5", "33.0", "41.5", "50.0")
    found = measured(readings(stream=Stream(tuple(range(10)), halves)))
    assert found.promise.readability_g == 0.5
    still = measured(readings(stream=Stream((0, 1, 2), ("0.0", "0.0", "0.1"))))
    assert still.readability is None
    assert still.promise.readability_g == 0.1


@pytest.mark.parametrize(
    ("checked", "months", "due"),
    [
        (date(2026, 3, 15), 12, date(2027, 3, 15)),
        (date(2027, 8, 31), 6, date(2028, 2, 29)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(2026, 11, 30), 1, date(2026, 12, 30)),
    ],
)
def test_a_check_is_due_on_the_same_day_of_a_later_month(checked, months, due):
    assert due_date(checked, months) == due


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(1, 119))
def test_a_longer_interval_is_due_later_and_a_month_is_28_to_31_days(checked, months):
    assert timedelta(28) <= due_date(checked, months + 1) - due_date(checked, months) <= timedelta(31)


@given(st.floats(0, 0.9), st.floats(1, 3))
def test_a_scale_that_scatters_more_never_promises_a_smaller_part(spread, factor):
    def least(width):
        pattern = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 0.1, 0.3, 0.7, 0.9)
        return measured(readings(placements=Placements(tuple(200 + width * p for p in pattern)))).promise.smallest_g(5)

    assert least(spread) <= least(spread * factor) * (1 + 1e-9)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: Placements((200.0,) * 4), "4 placements were read; at least 5"),
        (lambda: Placements((200.0, 200.0, math.nan, 200.0, 200.0)), "reading of a placement is nan"),
        (lambda: Placements((200.0, 200.0, -200.0, 200.0, 200.0)), "reading of a placement is -200 g"),
        (lambda: Placements((200.0, 200.0, 100.0, 200.0, 200.0)), "from 100 g to 200 g; that is not one load"),
        (lambda: ZeroReturns(()), "No zero return"),
        (lambda: ZeroReturns((math.inf,)), "zero return is inf"),
        (lambda: CheckWeight(-200, OfClass(WeightClass.M1)), "nominal value of the check weight is -200 g"),
        (lambda: CheckWeight(250, OfClass(WeightClass.M1)), "weight of 250 g has no class"),
        (lambda: CheckWeight(math.nan, OfClass(WeightClass.M1)), "check weight is nan"),
        (lambda: CheckWeight(200, Certified(500, 0.01)), "500 g does not belong to a weight of 200 g"),
        (lambda: Certified(200, 0), "certificate's uncertainty is 0 g"),
        (lambda: WeightReading(weight(), ()), "No reading of the 200 g check weight"),
        (lambda: WeightReading(weight(), (7.05,)), "7.05 g; that is another weight, or another unit"),
        (lambda: WeightReading(weight(), (200.0,), turned_after_g=-1), "mass added to turn the display is -1 g"),
        (lambda: Corners(100, 100, 100, 100, 100, 20), "reading at the right is 20 g with 100 g on"),
        (lambda: DriftSeries(((0, 1.0), (1, 1.0))), "2 readings do not show drift"),
        (lambda: DriftSeries(((0, 1.0), (2, 1.0), (1, 1.0))), "drift readings do not run forward"),
        (lambda: readings(wanted_percent=0), "wanted tolerance is 0 %"),
        (lambda: readings(wanted_percent=80), "± 80 % asks nothing"),
        (lambda: readings(smallest_part_g=-1), "smallest part is -1 g"),
        (lambda: readings(settling_s=(-1.0,)), "settling time is -1 s"),
        (lambda: readings(maximum_g=1500), "check weight of 2000 g is beyond Max = 1500 g"),
        (lambda: readings(plate=Plate(AccuracyClass.III, 0.1)), "cannot be of class III"),
        (lambda: readings(readability_g=0.01, plate=Plate(AccuracyClass.III, 1)), "e is d to 10 d"),
        (lambda: measured(readings(stream=Stream((0, 1, 2), ("0.0", "0.1", "OL")))), "'OL' is not a displayed number"),
        (lambda: measured(readings(stream=Stream((2, 1, 0), FLOWING))), "readings do not run forward"),
        (lambda: corner_load_g(3000, 0), "at least one support, not on 0"),
        (lambda: due_date(date(2026, 1, 1), 0), "0 months is no time"),
    ],
)
def test_readings_that_make_no_sense_are_refused_in_a_sentence(call, words):
    with pytest.raises(Refused, match=words.replace(".", r"\.")):
        call()
