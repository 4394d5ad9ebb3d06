"""Doubt: a stream that stops making sense is noticed within three seconds and no number of it reaches the bench."""

from __future__ import annotations

from decimal import Decimal

import pytest

from station.core.messages import NoLoad, Reading
from station.scale.bit7 import FORMATS
from station.scale.decoder import Decoder
from station.scale.delivery import CURE
from station.scale.families import FAMILIES
from station.scale.sense import Expected, Sense
from station.simulated.voices import Delivery, Voice

TENTH_S = 0.1


class Bench:
    """One connection: bytes go in at their times, what the bench would know comes out."""

    def __init__(self, family: str, unit: str | None = "g", *, pouring: bool = False, character: str = "8N1") -> None:
        self.pouring = pouring
        self.character = FORMATS[character]
        self.decoder = Decoder(FAMILIES[family], synced=True)
        self.sense = Sense(Expected(FAMILIES[family], unit), lambda: self.pouring)
        self.now_s = 0.0
        self.known: list[Reading | NoLoad] = []

    def hear(self, data: bytes, after_s: float = TENTH_S) -> str | None:
        """The doubt after `data` came."""
        self.now_s += after_s
        frames = self.decoder.feed(self.character.read(data))
        self.known += self.sense.hear(frames, len(data), self.now_s)
        return self.sense.doubt(self.now_s)

    def until_doubt(self, data: bytes) -> tuple[float, str]:
        """Seconds of hearing this at ten lines a second until it is doubted, and the words. Fails after three."""
        began = self.now_s
        while self.now_s - began < 3:
            if (doubt := self.hear(data)) is not None:
                return self.now_s - began, doubt
        raise AssertionError("not doubted within three seconds")


def line(family: str, grams: str, unit: str = "g") -> bytes:
    voice = Voice(family, Delivery.STREAM)
    voice.unit = unit
    return voice.line(Decimal(grams), True)


STREAMS = ("status-commas", "status-mode-commas", "sign-16", "value-unit-s", "stx-xor", "ff-bcd", "lf-status-etx")


@pytest.mark.parametrize("family", STREAMS)
@pytest.mark.parametrize("other", STREAMS)
def test_another_family_in_the_menu_is_said_within_three_seconds_and_is_no_load(family: str, other: str) -> None:
    if family == other:
        return
    bench = Bench(family)
    for _ in range(50):
        assert bench.hear(line(family, "62.4")) is None
    before = len(bench.known)
    after_s, words = bench.until_doubt(line(other, "99.9"))
    assert after_s <= 3
    assert f"makes no sense as {family}" in words
    assert len(bench.known) == before


@pytest.mark.parametrize(("set_to", "sent_as"), [("7E1", "7O1"), ("7O1", "7E1"), ("8N1", "7E1"), ("8N1", "7O1")])
def test_another_parity_is_said_within_three_seconds_and_is_no_load(set_to: str, sent_as: str) -> None:
    bench = Bench("status-commas", character=set_to)
    right, wrong = FORMATS[set_to].sent(line("status-commas", "62.4")), line("status-commas", "62.4")
    for _ in range(50):
        assert bench.hear(right) is None
    before = len(bench.known)
    _, words = bench.until_doubt(FORMATS[sent_as].sent(wrong))
    assert "parity" in words
    assert len(bench.known) == before


def test_bytes_without_any_frame_are_said_too() -> None:
    bench = Bench("status-commas")
    for _ in range(20):
        bench.hear(line("status-commas", "62.4"))
    _, words = bench.until_doubt(b"\xff\xfe\x80\x00\xe0\x98")
    assert "bit rate" in words


def test_a_few_damaged_lines_are_no_reason_to_doubt() -> None:
    bench = Bench("status-commas")
    for number in range(200):
        good = line("status-commas", "62.4")
        assert bench.hear(good if number % 12 else good[3:9] + b"\r\n") is None
    assert {message for message in bench.known if isinstance(message, Reading)} == {bench.known[0]}


def test_sense_comes_back_by_itself_when_the_menu_is_set_back() -> None:
    bench = Bench("status-commas")
    for _ in range(30):
        bench.hear(line("status-commas", "62.4"))
    bench.until_doubt(line("value-unit-s", "99.9"))
    before = len(bench.known)
    for _ in range(40):
        last = bench.hear(line("status-commas", "62.4"))
    assert last is None
    assert len(bench.known) > before


def test_a_unit_changed_during_a_pour_is_refused_and_outside_it_taken() -> None:
    bench = Bench("value-unit", pouring=True)
    for _ in range(20):
        bench.hear(b"    62.4 g\r\n")
    before = len(bench.known)
    after_s, words = bench.until_doubt(b"    2.20 oz\r\n")
    assert after_s <= TENTH_S * 2
    assert "from g to oz" in words
    assert len(bench.known) == before
    bench.pouring = False
    assert bench.hear(b"    2.20 oz\r\n") is None
    bench.hear(b"    2.20 oz\r\n")
    assert bench.known[-1].gross.mg == 62_369  # type: ignore[union-attr]  # 2.20 oz x 28.349523125 g


def test_a_moving_line_without_unit_has_the_unit_proven_last_and_not_the_configured_one() -> None:
    bench = Bench("sign-16", unit="g")
    for _ in range(3):
        bench.hear(b"+   0.1234 kg \r\n")
        bench.hear(b"+   0.1240    \r\n")
    assert bench.known[-1].gross.mg == 124_000  # type: ignore[union-attr]


def test_without_any_unit_nothing_is_a_load_and_the_reason_is_said() -> None:
    bench = Bench("stx-weight-cr", unit=None)
    _, words = bench.until_doubt(b"\x0201.250\r")
    assert "sends no unit" in words
    assert bench.known == []


def test_a_scale_that_prints_only_at_rest_is_recognised_with_the_cure() -> None:
    bench = Bench("value-unit")
    doubts = [bench.hear(f"{grams:10.1f} g\r\n".encode(), after_s=9.0) for grams in (62.4, 120.1, 33.0, 80.2)]
    assert doubts == [None, None, None, CURE]


def test_a_slow_stream_and_one_that_was_quick_before_are_not_taken_for_printing() -> None:
    slow = Bench("value-unit")
    assert [slow.hear(b"      62.4 g\r\n", after_s=5.0) for _ in range(10)] == [None] * 10
    quick = Bench("value-unit")
    for _ in range(20):
        quick.hear(b"      62.4 g\r\n")
    doubts = [quick.hear(f"{grams:10.1f} g\r\n".encode(), after_s=9.0) for grams in (62.4, 120.1, 33.0, 80.2, 90.1)]
    assert doubts == [None] * 5


def test_a_scale_that_switches_itself_off_after_equal_times_is_told_from_a_pulled_cable() -> None:
    bench = Bench("value-unit")

    def on_for(seconds: float) -> str | None:
        for _ in range(int(seconds)):
            bench.hear(b"      62.4 g\r\n", after_s=1.0)
        said = bench.sense.silence(bench.now_s + 25)
        bench.now_s += 60
        return said

    assert on_for(180) is None
    assert on_for(182) is None
    third = on_for(179)
    assert third is not None
    assert "after about 3 min" in third
    assert "auto power-off" in third
    assert on_for(40) is None


def test_the_same_tear_again_and_again_is_no_load() -> None:
    bench = Bench("value-unit")
    for _ in range(10):
        bench.hear(b"    1234.5 g\r\n")
    for _ in range(5):
        for raw in (b"234.5 g\r\n", b"    1234.5 g\r\n", b"34.5 g\r\n", b"    1234.5 g\r\n"):
            bench.hear(raw)
    assert {message.gross.mg for message in bench.known if isinstance(message, Reading)} == {1_234_500}


@pytest.mark.parametrize("family", ["stx-xor", "csv-flag", "mirror-equals", "bare-number"])
def test_a_unit_changed_where_lines_carry_none_shows_in_the_place_of_the_point(family: str) -> None:
    bench = Bench(family)
    for _ in range(30):
        bench.hear(line(family, "1234.5"))
    assert bench.known
    after_s, words = bench.until_doubt(line(family, "1234.5", "kg"))
    assert after_s < 1
    assert "count of decimals" in words
    assert {m.gross.mg for m in bench.known if isinstance(m, Reading)} == {1_234_500}
