"""Cast numbers of benches that share a log: no two give the same one, and the last digit says whose it is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core import messages as msg
from station.core.bench import Bench
from station.core.lanes import Lane, next_number
from tests.play import PAD, SILICONE, Play

digits = st.integers(1, 9)
lasts = st.integers(0, 10**8)


def numbers(digit: int | None, count: int, last: int = 0) -> list[int]:
    """The first `count` numbers after `last`."""
    found = []
    for _ in range(count):
        last = next_number(last, None if digit is None else Lane(digit))
        found.append(last)
    return found


def test_a_bench_with_a_digit_numbers_its_casts_with_that_last_digit() -> None:
    assert numbers(2, 4) == [2, 12, 22, 32]
    assert numbers(9, 3, last=17) == [19, 29, 39]
    assert numbers(7, 2, last=17) == [27, 37]


def test_a_bench_without_a_digit_counts_on() -> None:
    assert numbers(None, 4) == [1, 2, 3, 4]


@given(last=lasts, digit=digits)
def test_a_number_rises_stays_in_its_lane_and_skips_none_of_it(last: int, digit: int) -> None:
    number = next_number(last, Lane(digit))
    assert last < number <= last + 10
    assert number % 10 == digit


@given(one=st.tuples(digits, lasts), other=st.tuples(digits, lasts), count=st.integers(1, 60))
def test_two_benches_of_different_digits_never_give_the_same_number(
    one: tuple[int, int], other: tuple[int, int], count: int
) -> None:
    mine, theirs = set(numbers(one[0], count, one[1])), set(numbers(other[0], count, other[1]))
    assert one[0] == other[0] or not mine & theirs


@pytest.mark.parametrize("digit", [0, 10, -1])
def test_there_is_no_lane_but_one_to_nine(digit: int) -> None:
    with pytest.raises(ValueError, match="1 to 9"):
        Lane(digit)


def test_the_bench_gives_its_casts_the_numbers_of_its_lane() -> None:
    play = Play()
    play.bench = Bench(lane=Lane(3))
    for expected in (3, 13):
        play.begin(SILICONE, "220", PAD)
        assert play.cast.number == expected
        play.send(msg.Abort(expected, "only to see the number", "test"))
