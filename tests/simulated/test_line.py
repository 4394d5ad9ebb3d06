"""The serial line: exact where two settings agree, plausible where they do not, bits worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.errors import SettingsError
from station.simulated.line import (
    LineSetting,
    Resync,
    Signal,
    compatible,
    heard,
    receive,
    send,
    starts_of,
    units_per_second,
)

RATES = (600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200)
NAMES = ("7E1", "7O1", "8N1", "7N2", "7M1", "7S1", "7E2", "7O2", "8E1", "8O1", "8N2", "7N1")
LINE = b"ST,+00123.4  g\r\n"
formats = st.sampled_from(NAMES)
gaps = st.dictionaries(st.integers(0, 19), st.floats(0, 40), max_size=4)


def at(name: str, baud: int = 9600) -> LineSetting:
    return LineSetting.named(baud, name)


@pytest.mark.parametrize("name", NAMES)
def test_a_setting_is_named_as_it_is_written(name: str) -> None:
    setting = at(name)
    assert setting.name == name
    assert (setting.data_bits, setting.parity, setting.stop_bits) == (int(name[0]), name[1], int(name[2]))
    assert at(name.lower()) == setting


@pytest.mark.parametrize(("baud", "name"), [(9600, "9N1"), (9600, "8X1"), (9600, "8N3"), (9600, ""), (0, "8N1")])
def test_a_setting_that_no_line_has_is_refused(baud: int, name: str) -> None:
    with pytest.raises(SettingsError, match="7E1"):
        LineSetting.named(baud, name)


def test_characters_take_their_time() -> None:
    # 17 characters of ten bits: 18 ms at 9600, 71 ms at 2400, 142 ms at 1200 bit/s.
    assert [round(at("7E1", baud).seconds(17) * 1000) for baud in (9600, 2400, 1200)] == [18, 71, 142]
    assert [at(name).character for name in ("7N1", "8N1", "7E1", "7N2", "8E1", "7E2", "8N2")] == [9, 10, 10, 10] + [
        11
    ] * 3


def test_levels_are_a_start_bit_the_data_low_bit_first_the_parity_and_the_stop_bit() -> None:
    # 'A' = 1000001, two ones: even parity 0. Line: 0 1000001 0 1 -> edges at 0, 1, 2, 7, 8, 9 bit times.
    assert send(b"A", at("7E1", 1200), 1200) == Signal([0, 1, 2, 7, 8, 9], 1200)
    # Odd parity 1. Line: 0 1000001 1 1 -> low again only until 7.
    assert send(b"A", at("7O1", 1200), 1200) == Signal([0, 1, 2, 7], 1200)
    # The second start bit follows the stop bit, here three idle bits later.
    assert send(b"\xff\xff", at("8N1", 1200), 1200, {1: 3.0}).edges == [0, 1, 13, 14]


# Parity by hand: '0' = 0110000 has two ones, '1' three, CR = 0001101 three, LF = 0001010 two, ' ' = 0100000 one.
BY_HAND = {
    "8N1": b"01\r\n ",
    "8N2": b"01\r\n ",
    "7E1": b"0\xb1\x8d\n\xa0",
    "7E2": b"0\xb1\x8d\n\xa0",
    "7O1": b"\xb01\r\x8a ",
    "7O2": b"\xb01\r\x8a ",
    "7M1": b"\xb0\xb1\x8d\x8a\xa0",
    "7N2": b"\xb0\xb1\x8d\x8a\xa0",
    "7S1": b"01\r\n ",
}


@pytest.mark.parametrize("name", BY_HAND)
def test_ten_bit_characters_read_as_8n1_carry_their_parity_in_bit_7(name: str) -> None:
    got = heard(b"01\r\n ", at(name), at("8N1"))
    assert (got.data, got.framing_errors, got.parity_errors) == (BY_HAND[name], 0, 0)


def test_a_zero_line_in_seven_bits_odd_parity_reads_as_in_the_field_log() -> None:
    # From a public field log of a scale at 7O1 read at 8N1.
    assert heard(b"  0.00 kg \r\n", at("7O1"), at("8N1")).data == b"  \xb0\xae\xb0\xb0 kg \r\x8a"


@given(st.binary(min_size=1, max_size=20), formats, formats, gaps, st.floats(0, 0.99))
@settings(deadline=None)
def test_the_short_way_is_the_same_as_looking_at_every_bit(data, sent, listening, gaps, phase) -> None:
    one, other = at(sent), at(listening)
    units = units_per_second(one, other)
    slow = receive(send(data, one, units, gaps, 0.3), other, phase=phase)
    assert heard(data, one, other, gaps, byte_gap=0.3, phase=phase) == slow


def test_only_the_same_bits_go_the_short_way() -> None:
    short = {n for n in NAMES if compatible(at(n), at("8N1"))}
    assert short == {"7E1", "7O1", "8N1", "7N2", "7M1", "7S1", "7E2", "7O2", "8N2"}
    assert not compatible(at("8N1", 4800), at("8N1"))


@given(st.binary(min_size=1, max_size=20), formats, st.sampled_from(RATES), gaps)
@settings(deadline=None)
def test_the_same_setting_at_both_ends_is_heard_without_an_error(data, name, baud, gaps) -> None:
    setting = at(name, baud)
    units = units_per_second(setting, setting)
    got = receive(send(data, setting, units, gaps), setting)
    assert got[:3] == (bytes(b & (1 << setting.data_bits) - 1 for b in data), 0, 0)
    assert len(got.ends_s) == len(data)


@given(st.binary(min_size=1, max_size=20), st.sampled_from((-3, -2, 2, 3)))
@settings(deadline=None)
def test_a_sender_a_few_percent_off_is_still_heard(data: bytes, percent: int) -> None:
    # Half a bit in ten would be 5 %; a look in sixteen and the late edge take some of that.
    assert heard(data, LineSetting(96 * (100 + percent)), LineSetting(9600)).data == data


def test_a_real_parity_bit_too_many_is_a_framing_error_where_it_is_low_and_the_byte_is_right() -> None:
    # 8E1 read as 8N1: the parity bit stands where the stop bit is looked at. '1' and CR: parity 1, '0': parity 0.
    assert heard(b"0011\r", at("8E1"), at("8N1"))[:3] == (b"0011\r", 2, 0)
    assert heard(b"0011\r", at("8O1"), at("8N1"))[:3] == (b"0011\r", 3, 0)


def test_a_receiver_with_the_wrong_parity_delivers_the_bytes_and_counts_the_errors() -> None:
    assert heard(b"0011\r", at("7E1"), at("7O1"))[:3] == (b"0011\r", 0, 5)
    assert heard(b"0011\r", at("7N2"), at("7E1"))[:3] == (b"0011\r", 0, 2)


def test_fifty_five_at_half_the_rate() -> None:
    # 0x55 sent at 2400 8N1: 0 10101010 1, then idle; every level lasts two bits of a receiver at 4800:
    # sampled 0 | 0 1 1 0 0 1 1 0 | 0 ..: start, then 01100110 low bit first = 0x66, stop bit low: error.
    # The next falling edge is that of the fourth low bit (sixth level): 0 | 0 1 1 0 0 1 1 1 | 1 = 0xe6.
    got = heard(b"\x55", at("8N1", 2400), at("8N1", 4800))
    assert got[:3] == (b"\x66\xe6", 1, 0)


def test_fifty_five_at_double_the_rate_looks_idle_or_is_too_short_to_be_a_start_bit() -> None:
    # Sent at 9600: levels 0 1 0 1 .. of one bit each. A receiver at 4800 validates half its bit on, which is at the
    # end of the first level: its eighth look lies before the edge, still low. Then it looks every second level, the
    # same one each time: low. 0 | 0 0 0 0 1 1 1 1 | 1 = 0xf0, as the five low levels 0 2 4 6 8 end and all is idle.
    assert heard(b"\x55", at("8N1"), at("8N1", 4800))[:3] == (b"\xf0", 0, 0)


def test_a_pulse_shorter_than_half_a_bit_is_no_character() -> None:
    units = 16 * 9600
    assert receive(Signal([0, 7], units), at("8N1")).data == b""
    assert receive(Signal([0, 9], units), at("8N1")).data == b"\xff"


@pytest.mark.parametrize("resync", Resync)
def test_a_break_is_one_nul_however_long(resync: Resync) -> None:
    units = 16 * 9600
    got = receive(Signal([0, 16 * 500, 16 * 510, 16 * 511], units), at("8N1"), resync)
    assert got[:3] == (b"\x00\xff", 1, 0)


def test_after_a_low_stop_bit_a_16550_takes_it_for_the_start_and_others_wait() -> None:
    # '0' sent 8E1, its parity 0 in the place of the stop bit, then stop 1 and a rest of four bits, then 'A' (parity 0).
    # From the low stop bit: 1 1 1 1 1 | 0 1 0 are the eight looks, low bit first 0x5f. 'A' goes on:
    # the stop look sees its bit 2, low: an error again, and so on.
    sent, units = at("8E1"), units_per_second(at("8E1"), at("8N1"))
    signal = send(b"0A", sent, units, {1: 4.0})
    assert receive(signal, at("8N1"))[:3] == (b"0A", 2, 0)
    assert receive(signal, at("8N1"), Resync.LOW_IS_START).data[:2] == b"0\x5f"


def test_a_port_opened_in_the_middle_of_a_line_loses_what_was_before_and_at_most_garbles_one_run() -> None:
    setting = at("8N1")
    # A rest of one character between the frames lets the receiver fall into step again.
    stream, rests = LINE * 3, {len(LINE): 10.0, 2 * len(LINE): 10.0}
    for twentieth in range(1, 20):
        got = heard(stream, setting, setting, rests, listen_from_s=setting.seconds(len(LINE)) * twentieth / 20)
        assert got.data.endswith(LINE * 2)
        assert len(got.data) < len(stream)


@pytest.mark.parametrize("sent", RATES)
@pytest.mark.parametrize("listening", RATES)
def test_at_any_two_rates_the_number_of_bytes_is_plausible(sent: int, listening: int) -> None:
    got = heard(LINE * 4, at("7E1", sent), at("8N1", listening))
    lasting_s = at("7E1", sent).seconds(len(LINE * 4))
    falls = len(send(LINE * 4, at("7E1", sent), sent).edges) // 2
    # Not more than fit into the time, nor than there are falling edges; and a talking line is never silent.
    assert 1 <= len(got.data) <= min(falls, lasting_s * listening / 9.5 + 1)
    assert list(got.ends_s) == sorted(got.ends_s)
    assert got.ends_s[-1] <= lasting_s + 10 / listening
    if sent == listening:
        assert bytes(b & 0x7F for b in got.data) == LINE * 4


def test_gaps_move_the_bytes_and_change_none() -> None:
    setting = at("8N1", 1200)
    units = units_per_second(setting, setting)
    assert starts_of(b"abc", setting, 1200, {0: 2, 2: 5}, 1) == [2, 13, 29]
    got = receive(send(b"abc", setting, units, {0: 2, 2: 5}, 1), setting)
    assert got.data == b"abc"
    # The stop bit is looked at 9.5 bits after the start, less a sixteenth: the eighth of sixteen looks.
    assert got.ends_s == pytest.approx([(start + 9.5 - 1 / 16) / 1200 for start in (2, 13, 29)])
