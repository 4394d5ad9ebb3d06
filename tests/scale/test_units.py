"""Units and numbers. Factors: NIST Special Publication 811 (2008), appendix B.8, exact values in bold."""

from __future__ import annotations

from decimal import Decimal

import pytest

from station.core.mass import Mass
from station.core.messages import NoLoad, Reading, Stability, Trouble
from station.scale.decoded import message_of
from station.scale.meaning import Kind
from station.scale.number import number
from station.scale.recording import decode
from station.scale.units import BALANCE, COUNTS, GRAMS_PER, grams_of


@pytest.mark.parametrize(
    ("unit", "grams"),
    [
        ("kg", "1000"),
        ("mg", "0.001"),
        ("lb", "453.59237"),  # SP 811: pound (avoirdupois) (lb) 4.535 923 7 E-01 kg, exact
        ("oz", "28.349523125"),  # exactly 1/16 of that pound; SP 811 prints 2.834 952 E-02 kg
        ("ozt", "31.1034768"),  # exactly 480 grains of 64.798 91 mg; SP 811 prints 3.110 348 E-02 kg
        ("ct", "0.2"),  # SP 811: carat, metric 2.0 E-04 kg, exact
    ],
)
def test_a_unit_is_worth_what_sp_811_says(unit: str, grams: str) -> None:
    assert grams_of(Decimal(1), unit) == Decimal(grams)


def test_sixteen_ounces_are_a_pound_and_a_troy_ounce_is_480_grains_exactly() -> None:
    assert GRAMS_PER["oz"] * 16 == GRAMS_PER["lb"]
    assert GRAMS_PER["lb"] == 7000 * Decimal("0.06479891")  # SP 811: grain 6.479 891 E-05 kg, exact
    assert GRAMS_PER["ozt"] == 480 * Decimal("0.06479891")


def test_counts_and_units_of_unsettled_worth_are_never_grams() -> None:
    for unit in set(BALANCE.values()) - set(GRAMS_PER):
        assert grams_of(Decimal(5), unit) is None
    assert not COUNTS & set(GRAMS_PER)


@pytest.mark.parametrize(
    ("text", "value", "decimals"),
    [
        ("+00123.45", "123.45", 2),
        ("-   0.012", "-0.012", 3),
        ("12.34-", "-12.34", 2),
        ("1,250", "1.250", 3),
        ("+000000.", "0", 0),
        ("1'234.5", "1234.5", 1),
        ("-0.00", "-0.00", 2),
    ],
)
def test_numbers_are_read_as_scales_print_them(text: str, value: str, decimals: int) -> None:
    read = number(text)
    assert read is not None
    assert (str(read.value), read.decimals) == (value, decimals)


@pytest.mark.parametrize(
    "text", ["", "+", "-", ".5", "1.2.3", "1E+19", "+-1", "12345678901", "1,234567", "٣", "²", "nan"]
)
def test_what_is_no_single_number_is_none(text: str) -> None:
    assert number(text) is None


def test_six_nines_and_more_are_a_range_message_and_fewer_are_a_load() -> None:
    nines = {text: number(text) for text in ("99999.9", "-9999999", "999.99", "99.99", "099999")}
    assert {text for text, read in nines.items() if read is not None and read.all_nines} == {"99999.9", "-9999999"}


def message(family: str, raw: bytes, unit: str = "g") -> Reading | NoLoad | None:
    (frame,) = decode(family, raw)
    return message_of(frame, unit)


def test_a_frame_becomes_a_reading_with_what_it_says_about_rest() -> None:
    assert message("status-commas", b"ST,+00123.45  g\r\n") == Reading(Mass.grams("123.45"), Stability.STABLE)
    assert message("status-commas", b"US,-00001.50 kg\r\n") == Reading(Mass.grams(-1500), Stability.MOVING)
    assert message("value-unit", b"   -0.00 g\r\n") == Reading(Mass(0), Stability.UNSAID)


def test_a_line_without_a_unit_has_the_configured_one() -> None:
    assert message("bare-number", b"   1.250\r\n", "kg") == Reading(Mass.grams(1250), Stability.UNSAID)
    assert message("bare-number", b"   1.250\r\n", "lb") == Reading(Mass.grams("566.990"), Stability.UNSAID)


def test_a_line_with_a_unit_keeps_it_whatever_is_configured() -> None:
    assert message("value-unit", b"   1.250 kg\r\n", "g") == Reading(Mass.grams(1250), Stability.UNSAID)


@pytest.mark.parametrize(
    ("family", "raw"),
    [
        ("status-commas", b"PT,+00012.34  g\r\n"),
        ("status-mode-commas", b"ST,TR,+   0.350kg\r\n"),
        ("status-mode-commas", b"ST,PT,+   0.350kg\r\n"),
        ("reply-letter", b"T S      12.34 g\r\n"),
        ("reply-letter", b"TA A     12.34 g\r\n"),
        ("status-commas", b"QT,+00012345 PC\r\n"),
        ("status-commas", b"ST,+00012.50dwt\r\n"),
        ("status-mode-commas", b"ST,TW,+  12.5kg\r\n"),
        ("reply-letter", b'I4 A "0123456789"\r\n'),
        ("bare-number", b"hello\r\n"),
    ],
)
def test_tare_answers_counts_totals_and_foreign_units_never_reach_the_bench(family: str, raw: bytes) -> None:
    assert message(family, raw) is None


def test_troubles_reach_the_bench_by_their_kind() -> None:
    assert message("status-commas", b"OL,+999999.9  g\r\n") == NoLoad(Trouble.OVERLOAD)
    assert message("reply-letter", b"S -\r\n") == NoLoad(Trouble.UNDERLOAD)
    assert message("status-mode-commas", b"ERR05\r\n") == NoLoad(Trouble.ERROR)
    assert decode("bare-number", b"+99999999\r\n")[0].kind is Kind.OVERLOAD
