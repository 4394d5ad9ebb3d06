"""The search finds every family at any setting, harms no scale, and refuses what is none."""

from __future__ import annotations

import random
from collections import Counter
from decimal import Decimal

import pytest

from station.scale.delivery import CURE
from station.scale.delivery import Delivery as Way
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.queries import HARMLESS
from station.scale.finding.search import search
from station.scale.finding.wishes import Answer, AskShown, Confirm, Listen, Query, Tell, Wish
from station.simulated.line import LineSetting, Resync
from station.simulated.voices import Delivery, Voice
from station.simulated.voices.table import LAYOUTS, TYPICAL
from tests.scale.finding.virtual import VirtualScale

FORMATS_HEARD = {
    "8N1": "8N1",
    "8N2": "8N1",
    "8E1": "8N1",
    "8O1": "8N1",
    "7E1": "7E1",
    "7E2": "7E1",
    "7O1": "7O1",
    "7N2": "7N2",
    "7M1": "7N2",
}
"""What each character format is when read with eight data bits and without parity."""

RATES = (1200, 2400, 4800, 9600, 9600, 19200, 38400, 57600, 115200)
STREAMERS = [family for family in LAYOUTS if family != "ticket"]
SAME_LINES = {"diy-board": "value-unit"}
"""Families whose lines, as the simulated scale sends them, are those of a plainer one."""


@pytest.mark.parametrize("streams", [510, pytest.param(10_000, marks=pytest.mark.soak)])
def test_any_family_at_any_rate_and_format_is_found_from_the_middle_of_a_line(streams: int) -> None:
    rng = random.Random("find")
    missed: Counter[str] = Counter()
    for number in range(streams):
        family = STREAMERS[number % len(STREAMERS)]
        character = rng.choice(["8N1", "8N2"] if family == "ff-bcd" else list(FORMATS_HEARD))
        baud = rng.choice(RATES)
        scale = VirtualScale(
            Voice(family, Delivery.STREAM),
            LineSetting.named(baud, character),
            seed=number,
            rate=min(rng.choice((2, 5, 10, 20)), baud / 300),
            load=(Decimal(rng.randrange(100, 20_000)) / 10).quantize(Decimal("0.1")),
        )
        found = scale.conduct(search("/dev/scale"))
        right = (baud, "8N1" if family == "ff-bcd" else FORMATS_HEARD[character], SAME_LINES.get(family, family))
        if not isinstance(found, Profile) or (found.baud, found.character, found.family) != right:
            missed[f"{family} {baud} {character}: {found}"] += 1
        assert not any(isinstance(wish, Query) for wish in scale.wishes), (
            f"asked a scale that talks: {family} {baud} {character} {scale.rate}"
        )
    assert missed.total() <= streams // 500, missed


@pytest.mark.parametrize(
    ("family", "request_"),
    [
        ("reply-letter", b"SI\r\n"),
        ("echo-mark", b"SI\r\n"),
        ("status-commas", b"SI\r\n"),
        ("sign-16", b"\x1bP\r\n"),
        ("digits-tail", b"O8\r\n"),
        ("blank-18", b"w"),
        ("lf-status-etx", b"W\r"),
        ("lf-flags", b"\nW\r"),
        ("stx-weight-cr", b"W"),
        ("enq-five", b"\x05"),
        ("soh-block", b"\x05\x11"),
    ],
)
def test_a_silent_scale_is_found_by_a_harmless_question(family: str, request_: bytes) -> None:
    scale = VirtualScale(Voice(family, Delivery.REQUEST), LineSetting.named(*TYPICAL[family]), seed=1)
    found = scale.conduct(search("/dev/scale"))
    assert isinstance(found, Profile), found
    assert (found.family, found.baud, found.delivery) == (family, TYPICAL[family][0], Way.ON_REQUEST)
    assert found.request == request_
    assert scale.voice.harmed == []


@pytest.mark.parametrize("family", LAYOUTS)
@pytest.mark.parametrize("baud", [9600, 2400, 1200, 19200])
def test_no_question_harms_a_scale_of_any_family(family: str, baud: int) -> None:
    for character in ("8N1", "7E1", "7O1"):
        scale = VirtualScale(Voice(family, Delivery.REQUEST), LineSetting.named(baud, character), seed=2)
        scale.conduct(search("/dev/scale"))
        assert scale.voice.harmed == []
        assert any(isinstance(wish, Query) for wish in scale.wishes)


def test_what_is_sent_blindly_is_on_the_list_of_harmless_queries() -> None:
    deaf = VirtualScale(Voice("ticket", Delivery.REQUEST), LineSetting.named(600, "8N1"), seed=3)
    assert isinstance(deaf.conduct(search("/dev/scale")), NotFound)
    sent = {wish.data for wish in deaf.wishes if isinstance(wish, Query)}
    assert sent
    assert sent <= HARMLESS


@pytest.mark.parametrize("character", ["8E1", "8O1"])
@pytest.mark.parametrize("family", ["sign-22", "sign-26", "status-commas", "value-unit"])
def test_real_parity_is_tried_where_the_receiver_takes_a_parity_bit_for_the_next_start(
    family: str, character: str
) -> None:
    scale = VirtualScale(
        Voice(family, Delivery.STREAM), LineSetting.named(9600, character), seed=4, resync=Resync.LOW_IS_START
    )
    found = scale.conduct(search("/dev/scale"))
    assert isinstance(found, Profile), found
    assert (found.family, found.baud, found.character) == (family, 9600, "8O1")


OTHERS = {
    "pH meter": b"3.01pH 25.5\xf8C ATC\r\n",
    "thermometer": b"T=23.4C RH=41%\r\n",
    "barcode reader": b"9001234567890\r",
    "sensor node": b'{"t":21.5,"w":12.3}\n',
    "position": b"$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n",
    "modem": b"AT\r\r\nOK\r\n",
}


@pytest.mark.parametrize("line", OTHERS.values(), ids=OTHERS)
def test_another_instrument_is_refused_with_what_was_heard_and_three_causes(line: bytes) -> None:
    found = _conducted(lambda wish: line * 8 if isinstance(wish, Listen) else None)
    assert isinstance(found, NotFound)
    assert line[:8].hex(" ") in found.saw
    assert len(found.causes) == 3


def test_a_port_on_which_nothing_talks_is_refused_with_three_causes() -> None:
    found = _conducted(lambda _wish: None)
    assert isinstance(found, NotFound)
    assert found.saw == "Not a single byte came."
    assert len(found.causes) == 3


def test_a_number_that_never_changes_is_no_scale() -> None:
    found = _conducted(lambda wish: b"ST,+00123.45  g\r\n" * 12 if isinstance(wish, Listen) else None)
    assert isinstance(found, NotFound)
    assert "never changed" in found.saw


def test_a_scale_that_prints_only_at_rest_is_refused_with_the_cure() -> None:
    listened = 0

    def world(wish: Wish) -> Answer:
        nonlocal listened
        if isinstance(wish, Listen):
            listened += 1
            return b"ST,+00123.45  g\r\n" if listened == 2 else b""
        return None

    found = _conducted(world)
    assert isinstance(found, NotFound)
    assert found.causes == (CURE,)


def test_no_to_the_question_is_no_profile() -> None:
    scale = VirtualScale(Voice("status-commas", Delivery.STREAM), LineSetting.named(2400, "7E1"), agrees=False)
    found = scale.conduct(search("/dev/scale"))
    assert isinstance(found, NotFound)
    assert "the display shows something else" in found.saw


def test_without_anybody_to_ask_the_profile_says_that_it_is_not_confirmed() -> None:
    scale = VirtualScale(Voice("status-commas", Delivery.STREAM), LineSetting.named(2400, "7E1"))

    def done(wish: Wish) -> Answer:
        return None if isinstance(wish, Confirm) else scale._done(wish)

    found = _conducted(done)
    assert isinstance(found, Profile)
    assert "Nobody confirmed 123.4 g" in found.sure[-1]


def test_numbers_without_unit_and_point_get_both_from_what_the_display_shows() -> None:
    voice = Voice("status-letter-6", Delivery.STREAM)
    scale = VirtualScale(voice, LineSetting.named(9600, "8N1"), reads="123.4 g")
    found = scale.conduct(search("/dev/scale"))
    assert isinstance(found, Profile)
    assert (found.unit, found.worth) == ("g", "0.1")


@pytest.mark.parametrize("nonsense", ["", "123,4", "stone", "12.34 g", "g 123.4"])
def test_a_display_that_does_not_go_together_with_the_line_is_asked_again_and_then_refused(nonsense: str) -> None:
    scale = VirtualScale(Voice("bare-number", Delivery.STREAM), LineSetting.named(9600, "8N1"), reads=nonsense)
    found = scale.conduct(search("/dev/scale"))
    assert isinstance(found, NotFound)
    assert sum(isinstance(wish, AskShown) for wish in scale.wishes) == 3


def test_each_stage_is_told() -> None:
    scale = VirtualScale(Voice("value-unit", Delivery.STREAM), LineSetting.named(9600, "8N1"))
    scale.conduct(search("/dev/scale"))
    told = " ".join(wish.words for wish in scale.wishes if isinstance(wish, Tell))
    assert "without sending anything" in told
    assert "9600 baud, 8N1" in told
    assert "Press the pan" in told


def _conducted(world: object) -> Profile | NotFound:
    going = search("/dev/scale")
    answer: Answer = None
    while True:
        try:
            answer = world(going.send(answer))  # type: ignore[operator]
        except StopIteration as end:
            found: Profile | NotFound = end.value
            return found
