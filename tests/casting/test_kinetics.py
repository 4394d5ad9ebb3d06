"""Rates and pot lives: what holds at every temperature and mass."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.casting.chemistry import Chemistry
from station.casting.cure import cure_rate
from station.casting.kinetics import DEFAULT_KJ, Kinetics, Rate, Unknown, equivalent_age, factor, nurse_saul

DEGREES = st.floats(-5, 60)
WIDE = Kinetics(23, 30, 70)
TABLE = Kinetics(23, 30, 70, table=((15.0, 0.5), (30.0, 1.6)))


@given(DEGREES, DEGREES)
def test_warmer_is_never_slower(one, other):
    cold, warm = sorted((one, other))
    slow, fast = WIDE.rate(cold), WIDE.rate(warm)
    assert slow.slow <= fast.slow + 1e-12
    assert slow.fast <= fast.fast + 1e-12


@given(DEGREES, st.floats(30, 70))
def test_the_range_contains_every_energy_in_it(celsius, energy):
    found, one = WIDE.rate(celsius), Kinetics(23, energy, energy).rate(celsius)
    assert found.slow - 1e-12 <= one.slow <= found.fast + 1e-12


def test_the_reference_temperature_counts_as_itself():
    for kinetics in (WIDE, TABLE, Kinetics(23)):
        assert kinetics.rate(23) == Rate(pytest.approx(1), pytest.approx(1))


def test_a_table_counts_before_an_energy_and_is_met_at_its_points():
    assert TABLE.rate(15).slow == pytest.approx(0.5)
    assert TABLE.rate(30).fast == pytest.approx(1.6)
    assert 1 < TABLE.rate(26).slow < 1.6
    assert TABLE.rate(32).slow > 1.6


@pytest.mark.parametrize("celsius", [20.5, 22, 23, 26, 30, 32])
def test_a_table_row_at_the_reference_or_twice_for_one_temperature_is_no_trouble(celsius):
    plain = Kinetics(23, 30, 70, table=((30.0, 1.6),))
    twice = Kinetics(23, 30, 70, table=((23.0, 1.1), (30.0, 1.5), (30.0, 1.6)))
    assert twice.rate(celsius) == plain.rate(celsius)


@given(st.floats(-90, 200), st.floats(15, 30))
def test_a_table_is_met_at_every_point_and_lies_between_its_neighbours(celsius, between):
    sheet = Kinetics(23, table=((15.0, 0.5), (30.0, 1.6)))
    assert sheet.rate(between).slow == sheet.rate(between).fast
    assert 0.5 - 1e-9 <= sheet.rate(between).slow <= 1.6 + 1e-9
    assert isinstance(sheet.rate(celsius), Rate) == (12 <= celsius <= 33)


def test_what_no_bench_has_is_refused_in_a_sentence():
    for celsius, reference in ((-273.15, 23), (-400, 23), (20, -300)):
        with pytest.raises(ValueError, match=r"not above absolute zero.*Give a temperature of the bench\."):
            factor(50, celsius, reference)
    for energy in (1e6, -1e6):
        with pytest.raises(ValueError, match="beyond any reaction at a bench"):
            factor(energy, 28, 23)


def test_far_beyond_a_table_it_goes_on_from_its_end_with_the_energies_or_not_at_all():
    beyond = TABLE.rate(35)
    assert beyond.slow == pytest.approx(1.6 * factor(30, 35, 30))
    assert beyond.fast == pytest.approx(1.6 * factor(70, 35, 30))
    assert TABLE.rate(5).fast == pytest.approx(0.5 * factor(30, 5, 15))
    bare = Kinetics(23, table=((15.0, 0.5), (30.0, 1.6)))
    assert isinstance(bare.rate(35), Unknown)
    assert not bare.rate(5).cold


def test_outside_the_sheet_s_limits_nothing_is_predicted():
    sheet = Kinetics(23, 50, 50, coldest_c=15, warmest_c=35)
    cold, warm = sheet.rate(14.9), sheet.rate(35.1)
    assert cold.cold
    assert "15 °C" in cold.why
    assert not warm.cold
    assert "35 °C" in warm.why


def test_without_a_chemistry_nothing_is_predicted_away_from_the_reference():
    assert isinstance(Kinetics(23).rate(28), Unknown)
    assert Chemistry.OTHER not in DEFAULT_KJ


@given(st.lists(st.tuples(st.floats(0, 1e5), st.floats(10, 40)), min_size=1, max_size=6))
def test_the_age_of_a_history_is_the_sum_of_its_spells(history):
    whole = equivalent_age(WIDE, history)
    assert whole.slow == pytest.approx(sum(WIDE.rate(t).slow * s for s, t in history))
    assert nurse_saul(history, 0) == pytest.approx(sum(s * t for s, t in history))


def test_a_spell_too_cold_counts_nothing_and_one_too_hot_makes_the_whole_unknown():
    sheet = Kinetics(23, 50, 50, coldest_c=15, warmest_c=35)
    assert equivalent_age(sheet, ((60, 23), (600, 3))).slow == pytest.approx(60)
    assert isinstance(equivalent_age(sheet, ((60, 23), (60, 50))), Unknown)


LIMITED = Kinetics(23, 30, 70, coldest_c=15, warmest_c=35)
BARE = Kinetics(23, table=((15.0, 0.5), (30.0, 1.6)))
EVERY = st.sampled_from([WIDE, TABLE, LIMITED, BARE, Kinetics(23), Kinetics(23, 30, 70, table=((30.0, 1.6),))])


@given(EVERY, st.floats(23, 80), st.floats(23, 80))
def test_a_hotter_day_never_makes_a_limit_longer_wherever_predictions_end(kinetics, one, other):
    cool, hot = sorted((one, other))
    assert kinetics.limit(600, hot) <= kinetics.limit(600, cool) * (1 + 1e-9) <= 600 * (1 + 1e-8)


@given(EVERY, DEGREES)
def test_no_limit_is_longer_than_the_longest_that_the_sheet_prints(kinetics, celsius):
    told = [600, *(600 / rate for _, rate in kinetics.table)]
    assert 0 < kinetics.limit(600, celsius) <= max(told) * (1 + 1e-9)


def test_hotter_than_anything_predicted_the_shortest_predicted_counts():
    assert LIMITED.limit(600, 50) == LIMITED.limit(600, 35) == pytest.approx(600 / factor(70, 35, 23))
    assert BARE.limit(600, 50) == BARE.limit(600, 33) < 600 / 1.6


def test_colder_than_anything_predicted_the_sheet_s_own_time_counts():
    assert BARE.limit(600, 12) == pytest.approx(1200)
    assert BARE.limit(600, 11) == 600
    assert LIMITED.limit(600, 5) == 600


@given(EVERY, DEGREES, DEGREES)
def test_a_colder_cure_never_counts_faster_up_to_the_sheet_s_warmest(kinetics, one, other):
    cold, warm = sorted((min(one, 33), min(other, 33)))
    assert cure_rate(kinetics, cold) <= cure_rate(kinetics, warm) + 1e-12


def test_colder_than_a_table_without_an_energy_a_cure_goes_on_counting_at_its_end():
    assert cure_rate(BARE, 5) == BARE.rate(12).slow < 0.5
    assert cure_rate(BARE, 60) == 1
    assert cure_rate(LIMITED, 60) == 1
    assert cure_rate(LIMITED, 14.9) == 0
    assert cure_rate(Kinetics(23), 5) == 1
    assert cure_rate(LIMITED, None) == 1
