"""Every voice against its documented layout: length, columns, signs, rest, range."""

from __future__ import annotations

from decimal import Decimal

import pytest

from station.errors import SettingsError
from station.simulated.line import LineSetting
from station.simulated.voices import TYPICAL, Voice
from station.simulated.voices.table import LAYOUTS

FAMILIES = sorted(LAYOUTS)

# Columns of the number, 1-based and inclusive, and the length of a line with its ender, from the documented layouts.
COLUMNS = {
    "status-commas": (5, 12, 17),
    "status-mode-commas": (8, 15, 19),
    "reply-letter": (5, 14, 18),
    "echo-mark": (4, 12, 18),
    "sign-16": (3, 10, 16),
    "sign-22": (9, 16, 22),
    "sign-26": (6, 20, 26),
    "digits-tail": (2, 8, 14),
    "letter-first": (3, 10, 14),
    "value-unit-s": (2, 9, 15),
    "short-14": (3, 9, 14),
    "blank-18": (3, 12, 18),
    "query-mark": (1, 12, 21),
    "lf-status-etx": (2, 8, 16),
    "lf-flags": (7, 16, 20),
    "stx-weight-cr": (2, 7, 8),
    "enq-five": (2, 6, 7),
    "soh-block": (5, 10, 15),
    "stx-bits": (5, 10, 18),
    "stx-xor": (3, 8, 12),
    "mirror-equals": (2, 8, 9),
    "stx-polarity": (3, 9, 19),
    "prefix-wn": (3, 9, 13),
    "status-letter-6": (2, 7, 8),
    "colon-type": (4, 9, 14),
    "xon-frame": (3, 11, 16),
    "ff-bcd": (3, 5, 6),
    "csv-flag": (3, 9, 27),
    "hash-print": (1, 8, 14),
    "dollar-fields": (2, 10, 30),
    "echo-label": (6, 13, 17),
    "value-unit": (1, 10, 14),
    "bare-number": (2, 9, 11),
}

# Line, load in grams (its decimals are those of the line), unit, at rest, out of range.
PUBLISHED = [  # printed in manuals, driver tests, logs
    ("status-commas", b"ST,+001234.5  g\r\n", "1234.5", "g", True, False),
    ("status-commas", b"OL,+999999.9  g\r\n", "3000.1", "g", False, True),
    ("reply-letter", b"S S     105.00 g\r\n", "105.00", "g", True, False),
    ("reply-letter", b"S D      740.6 g\r\n", "740.6", "g", False, False),
    ("reply-letter", b"S +\r\n", "3000.1", "g", False, True),
    ("echo-mark", b"^\r\n", "3000.1", "g", False, True),
    ("sign-22", b"N     +    67.87 g  \r\n", "67.87", "g", True, False),
    ("sign-26", b"-------OL------\n\r", "3000.1", "g", False, True),
    ("sign-26", b"-------UL------\n\r", "-3000.1", "g", False, True),
    ("digits-tail", b"+00123.4 G S\r\n", "123.4", "g", True, False),
    ("value-unit-s", b"     0.00 g S\r\n", "0.00", "g", True, False),
    ("value-unit-s", b"-    2.50 g S\r\n", "-2.50", "g", True, False),
    ("short-14", b"-  29.182 g \r\n", "-29.182", "g", True, False),
    ("blank-18", b"       0.665 g  \r\n", "0.665", "g", True, False),
    ("query-mark", b"       12.73 g    ?\r\n", "12.73", "g", False, False),
    ("query-mark", b"        0.00 g     \r\n", "0.00", "g", True, False),
    ("lf-flags", b"\nZ1G       0.000lb \r", "0", "lb", True, False),
    ("enq-five", b"\x02IIIII\x03", "5.0", "g", False, False),
    ("enq-five", b"\x02NNNNN\x03", "-5.0", "g", True, False),
    ("enq-five", b"\x02SSSSS\x03", "3000.1", "g", False, True),
    ("stx-xor", b"\x02+00000001B\x03", "0", "g", True, False),
    ("stx-xor", b"\x02+001650019\x03", "1650", "g", True, False),
    ("mirror-equals", b"=00.1000-", "-1.00", "g", True, False),
    ("prefix-wn", b"wn001.172kg\r\n", "1172", "kg", True, False),
    ("colon-type", b":W 118.70kgS \r", "11870E1", "kg", True, False),
    ("csv-flag", b"0,-   ol,-   ol,-   ol\r\n", "-3000.1", "g", True, True),
    ("value-unit", b"    12.345 kg\r\n", "12345", "kg", True, False),
]
BUILT = [  # constructed by hand from the documented layouts
    ("status-mode-commas", b"US,GS,-    62.4 g\r\n", "-62.4", "g", False, False),
    ("sign-16", b"-      0.3 g  \r\n", "-0.3", "g", True, False),
    ("sign-16", b"+   1255.7    \r\n", "1255.7", "g", False, False),
    ("sign-16", b"       0.0 g  \r\n", "0.0", "g", True, False),
    ("sign-16", b"      H       \r\n", "3000.1", "g", False, True),
    ("sign-22", b"Stat        L       \r\n", "-3000.1", "g", False, True),
    ("digits-tail", b"+001234  G U\r\n", "1234", "g", False, False),
    ("digits-tail", b"+00000.0 G E\r\n", "3000.1", "g", False, True),
    ("letter-first", b"S- 1000.00g \r\n", "-1000.00", "g", True, False),
    ("letter-first", b"U-     oL   \r\n", "-3000.1", "g", False, True),
    ("blank-18", b"       12.34    \r\n", "12.34", "g", False, False),
    ("blank-18", b"           Error\r\n", "3000.1", "g", False, True),
    ("lf-status-etx", b"\n 12.345KG\r\nS10\r\x03", "12345", "kg", False, False),
    ("lf-status-etx", b"\n_______G\r\nS01\r\x03", "-3000.1", "g", False, True),
    ("lf-flags", b"\nU1G      -500.1g  \r", "-500.1", "g", True, True),
    ("stx-weight-cr", b"\x0201.250\r", "1250", "kg", True, False),
    ("stx-weight-cr", b"\x02-1.250\r", "-1250", "kg", True, False),
    ("stx-weight-cr", b"\x02?a\r", "62.4", "g", False, False),
    ("stx-weight-cr", b"\x02?d\r", "-3000.1", "g", False, True),
    ("enq-five", b"\x0200624\x03", "62.4", "g", True, False),
    # S 0x53, blank 0x20, "02.500" together 0x19, k 0x6b, g 0x67: 0x53 ^ 0x20 ^ 0x19 ^ 0x6b ^ 0x67 = 0x66.
    ("soh-block", b"\x01\x02S 02.500kg\x66\x03\x04", "2500", "kg", True, False),
    # Sum: STX 2, '-' 2d, '0' 30, blank 20, "  1234" 10a, "     0" d0, CR d = 266; low seven bits 66, 80 - 66 = 1a.
    ("stx-bits", b"\x02-0   1234     0\r\x1a", "1234", "kg", True, False),
    ("stx-polarity", b"\x02-   0.35 KG GR  \r\n", "-35E1", "kg", True, False),
    ("stx-polarity", b"\x02   12.50 KG GR M\r\n", "1250E1", "kg", False, False),
    ("stx-polarity", b"\x02    9.99 KG GR O\r\n", "300E1", "kg", False, True),
    ("status-letter-6", b"A 15000\r", "1500.0", "g", True, False),
    ("status-letter-6", b"C    -5\r", "-0.5", "g", False, False),
    ("status-letter-6", b"E      \r", "3000.1", "g", False, True),
    ("colon-type", b":W-001.25kg  \r", "-125E1", "kg", False, False),
    ("xon-frame", b"\x11-000012.30g   \x13", "-12.30", "g", True, False),
    ("ff-bcd", b"\xff\x42\x34\x12\x00\x00", "1234E1", "kg", True, False),
    ("ff-bcd", b"\xff\x22\x34\x12\x00\x00", "-1234E1", "kg", False, False),
    ("hash-print", b" +123.45  GS\r\n", "123.45", "g", True, False),
    ("dollar-fields", b"$-   0.350     0.000 kg 0000\r\n", "-350", "kg", True, False),
    ("bare-number", b"+00123.45\r\n", "123.45", "g", True, False),
    ("bare-number", b"-99999999\r\n", "-3000.1", "g", False, True),
    ("diy-board", b"Weight: 0.123 kg\r\n", "123", "kg", True, False),
    ("diy-board", b"Weight: nan g\r\n", "3000.1", "g", False, True),
    ("echo-label", b"Gross    62.4 g\r\n", "62.4", "g", True, False),
]


@pytest.mark.parametrize("case", PUBLISHED + BUILT, ids=str)
def test_a_voice_says_the_published_line(case: tuple[str, bytes, str, str, bool, bool]) -> None:
    family, line, grams, unit, stable, overload = case
    voice = Voice(family)
    voice.unit = unit
    assert voice.line(Decimal(grams), stable, overload) == line


@pytest.mark.parametrize("family", COLUMNS)
def test_the_number_stands_in_its_columns_and_the_line_has_its_length(family: str) -> None:
    first, last, length = COLUMNS[family]
    voice = Voice(family)
    for grams, kg in (("62.4", "0.0624"), ("2999.9", "2.9999"), ("0.0", "0.0000")):
        line = voice.line(Decimal(grams), True)
        assert len(line) == length
        field, number = line[first - 1 : last], (kg if voice.unit == "kg" else grams).encode()
        if family == "mirror-equals":
            field = field[::-1]
        if family == "ff-bcd":
            field = field[::-1].hex().encode()
        if family in ("enq-five", "stx-bits", "stx-xor", "status-letter-6", "ff-bcd"):
            number = number.replace(b".", b"").lstrip(b"0") or b"0"
        assert field.strip(b"+ ").lstrip(b"0").rjust(1, b"0") == number.lstrip(b"0").rjust(1, b"0")
        assert field.endswith(number)


def test_every_family_is_spoken_and_has_a_setting_and_an_own_check() -> None:
    assert set(COLUMNS) | {"diy-board", "ticket"} == set(FAMILIES) == set(TYPICAL)
    assert {line[0] for line in PUBLISHED + BUILT} | {"ticket"} == set(FAMILIES)
    assert all(LineSetting.named(*setting).baud == setting[0] for setting in TYPICAL.values())
    with pytest.raises(SettingsError, match="sign-16"):
        Voice("semaphore")


SILENT_ABOUT_REST = {
    "sign-26", "short-14", "stx-xor", "mirror-equals", "prefix-wn", "xon-frame", "echo-label", "value-unit",
    "bare-number", "diy-board", "ticket",
}  # fmt: skip
SAYS_NO_RANGE_SIDE = {"blank-18", "soh-block", "status-letter-6", "dollar-fields", "diy-board", "ticket"}


@pytest.mark.parametrize("family", FAMILIES)
def test_moving_and_out_of_range_are_told_where_the_layout_tells_them(family: str) -> None:
    voice, load = Voice(family), Decimal("62.4")
    rest, moving = voice.line(load, True), voice.line(load, False)
    assert (rest == moving) is (family in SILENT_ABOUT_REST)
    over, under = voice.line(load, False, True), voice.line(-load, False, True)
    assert over not in (rest, moving)
    assert (over == under) is (family in SAYS_NO_RANGE_SIDE)
    if family != "lf-flags":  # keeps the number beside its flag
        assert b"62.4" not in over
        assert b"0624" not in over


@pytest.mark.parametrize("family", sorted(set(FAMILIES) - {"enq-five"}))
def test_below_zero_differs_from_above_by_a_sign_or_a_bit(family: str) -> None:
    voice = Voice(family)
    plus, minus = voice.line(Decimal("62.4"), True), voice.line(Decimal("-62.4"), True)
    assert plus != minus
    assert b"-" in minus or family in ("stx-bits", "ff-bcd")


def test_a_number_too_wide_for_its_columns_loses_decimals_and_then_is_out_of_range() -> None:
    voice = Voice("soh-block")  # six characters, in kg
    assert voice.line(Decimal("12345.6"), True)[4:10] == b"12.346"
    assert voice.line(Decimal("1234567890"), True)[3:10] == b"F      "
    assert Voice("enq-five").line(Decimal("10000.0"), True) == b"\x02SSSSS\x03"


def test_another_unit_from_the_menu_changes_number_and_unit() -> None:
    voice, load = Voice("value-unit"), Decimal("62.4")
    said = {}
    for unit in voice.units:
        voice.unit = unit
        said[unit] = voice.line(load, True).split()
    # 62.4 / 453.59237 = 0.137568..., 62.4 / 28.349523125 = 2.201095...
    assert said == {"g": [b"62.4", b"g"], "kg": [b"0.0624", b"kg"], "lb": [b"0.1376", b"lb"], "oz": [b"2.201", b"oz"]}


def test_implied_decimals_are_those_of_the_installation() -> None:
    voice = Voice("status-letter-6")
    assert [voice.implied_decimals, Voice("value-unit").implied_decimals] == [1, None]
    voice.implied_decimals = 0
    assert voice.line(Decimal("1500.4"), True) == b"A  1500\r"


def test_a_ticket_is_several_lines_with_one_load() -> None:
    lines = Voice("ticket").line(Decimal("123.456"), True).split(b"\r\n")
    assert len(lines) > 4
    assert [line for line in lines if b"Net" in line] == [b"Net: 123.456 g"]
