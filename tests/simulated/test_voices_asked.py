"""Every voice when it is asked: readings, refusals, silence, and what would do harm to a real scale."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.simulated.voices import Delivery, Voice
from station.simulated.voices.table import LAYOUTS

FAMILIES = sorted(LAYOUTS)
NOW = {
    "status-commas": (b"SI\r\n", b"Q\r\n"),
    "status-mode-commas": (b"READ\r\n",),
    "reply-letter": (b"SI\r\n",),
    "sign-16": (b"\x1bP\r\n", b"\x1bP"),
    "digits-tail": (b"O8\r\n",),
    "letter-first": (b"D07\r\n",),
    "short-14": (b"\x1bp", b"p"),
    "blank-18": (b"w", b"s"),
    "query-mark": (b"IP\r\n",),
    "lf-status-etx": (b"W\r", b"\nW\r"),
    "lf-flags": (b"\nW\r",),
    "stx-weight-cr": (b"W",),
    "enq-five": (b"\x05",),
    "soh-block": (b"\x11",),
    "status-letter-6": (b"d\r",),
    "xon-frame": (b"\x01s",),
    "hash-print": (b"#",),
}
LOAD = Decimal("62.4")


@pytest.mark.parametrize(("family", "request_"), [(f, r) for f, requests in NOW.items() for r in requests])
def test_a_reading_request_gives_the_line_however_it_is_cut_and_does_no_harm(family: str, request_: bytes) -> None:
    whole, cut = Voice(family, Delivery.REQUEST), Voice(family, Delivery.REQUEST)
    assert whole.answer(request_, LOAD, True) == whole.line(LOAD, True)
    assert b"".join(cut.answer(bytes((b,)), LOAD, True) for b in request_) == cut.line(LOAD, True)
    assert whole.harmed == cut.harmed == []


@pytest.mark.parametrize(
    ("family", "heard", "answer"),
    [
        ("echo-mark", b"SI\r\n", b"SI         62.4 g  \r\n"),
        ("letter-first", b"D05\r\n", b"     62.4g \r\n"),
        ("echo-label", b"SGW\r", b"SGWGross    62.4 g\r\n"),
        ("soh-block", b"\x05", b"\x06"),
        ("lf-status-etx", b"S\r", b"\nS00\r\x03"),
        ("reply-letter", b"Q\r\n", b"ES\r\n"),
        ("echo-mark", b"Q\r\n", b"ES\r\n"),
        ("query-mark", b"SI\r\n", b"ES\r\n"),
        ("digits-tail", b"SI\r\n", b"E01\r\n"),
        ("lf-status-etx", b"SI\r", b"\n?\r\x03"),
        ("stx-weight-cr", b"S", b"\x02?`\r"),
        ("status-commas", b"W\r\n", b""),
        ("sign-16", b"SI\r\n", b""),
        ("lf-flags", b"W\r", b""),
        ("value-unit", b"SI\r\n", b""),
        # CR alone does not end a request where CR LF is asked for.
        ("reply-letter", b"SI\r", b""),
        # ENQ is nothing in a line.
        ("reply-letter", b"\x05SI\r\n", b"S S       62.4 g\r\n"),
    ],
)
def test_other_requests_get_what_the_family_says_to_them(family: str, heard: bytes, answer: bytes) -> None:
    voice = Voice(family, Delivery.REQUEST)
    assert voice.answer(heard, LOAD, True) == answer
    assert voice.harmed == []


HARM = [
    *((f, b"P\r\n") for f in ("status-commas",)),
    *((f, b"T\r\n") for f in ("status-commas", "reply-letter", "echo-mark", "query-mark", "digits-tail")),
    *((f, b"Z\r\n") for f in ("status-mode-commas", "reply-letter", "lf-status-etx")),
    *(("sign-16", b"\x1b" + letter) for letter in (b"S", b"Z", b"O", b"T")),
    *(("short-14", b"\x1b" + letter) for letter in (b"q", b"s", b"t")),
    *(("letter-first", request) for request in (b"Q\r\n", b"C18\r\n", b"D01\r\n", b"%\r\n")),
    *(("digits-tail", b"O%d\r\n" % n) for n in range(8)),
    ("reply-letter", b"@\r\n"),
    ("reply-letter", b"SIR\r\n"),
    ("echo-mark", b"C1\r\n"),
    ("status-mode-commas", b"TARE\r\n"),
    ("lf-status-etx", b"X\r"),
    ("lf-flags", b"\nR\r"),
    ("stx-weight-cr", b"E"),
    ("xon-frame", b"\x01v"),
    ("blank-18", b"t"),
    ("hash-print", b"t"),
    ("status-letter-6", b"z\r"),
    ("diy-board", b"t"),
]


@pytest.mark.parametrize("delivery", [Delivery.REQUEST, Delivery.STREAM])
@pytest.mark.parametrize(("family", "heard"), HARM)
def test_what_would_change_the_scale_is_on_record(family: str, heard: bytes, delivery: Delivery) -> None:
    voice = Voice(family, delivery)
    said = voice.answer(heard, LOAD, True)
    assert voice.harmed == [heard.strip(b"\r\n")]
    assert b"62.4" not in said


SAFE = (b"\x05", b"\x11", b"SI\r\n", b"\nW\r", b"w", b"\r\n", b"S\r\n", b"\x1bP\r\n", b"O8\r\n", b"D05\r\n")


@pytest.mark.parametrize("family", FAMILIES)
def test_the_safe_queries_harm_no_scale_that_waits_to_be_asked(family: str) -> None:
    voice = Voice(family, Delivery.REQUEST)
    for query in SAFE * 2:
        voice.answer(query, LOAD, True)
    assert voice.harmed == []


@pytest.mark.parametrize("family", ["sign-16", "sign-22", "sign-26"])
def test_asking_a_printing_balance_to_print_switches_its_printing_off(family: str) -> None:
    voice = Voice(family, Delivery.STREAM)
    voice.answer(b"\x1bP", LOAD, True)
    assert voice.harmed == [b"\x1bP"]


@given(st.sampled_from(FAMILIES), st.lists(st.binary(max_size=6), max_size=6), st.booleans(), st.booleans())
def test_no_garbage_breaks_a_voice_and_cuts_make_no_difference(family, pieces, stable, overload) -> None:
    one, other = Voice(family, Delivery.REQUEST), Voice(family, Delivery.REQUEST)
    whole = one.answer(b"".join(pieces), LOAD, True, overload)
    assert b"".join(other.answer(piece, LOAD, True, overload) for piece in pieces) == whole
    assert one.harmed == other.harmed
    assert isinstance(Voice(family).answer(b"".join(pieces), LOAD, stable, overload), bytes)


def test_a_stable_load_asked_for_while_it_moves_comes_once_when_it_is_at_rest() -> None:
    voice = Voice("echo-mark")
    assert voice.answer(b"S\r\n", LOAD, False) == b"S A\r\n"
    assert voice.unasked(LOAD, False) == b""
    assert voice.unasked(LOAD, True) == b"S          62.4 g  \r\n"
    assert voice.unasked(LOAD, True) == b""
    refusing = Voice("reply-letter")
    assert refusing.answer(b"S\r\n", LOAD, False) == b"S I\r\n"
    assert refusing.unasked(LOAD, True) == b""


def test_each_delivery_sends_when_it_should() -> None:
    stream, request, rest = (Voice("sign-22", delivery) for delivery in Delivery)
    steps = [
        ("0.0", True),
        ("30.1", False),
        ("62.4", True),
        ("62.4", True),
        ("90.0", True),
        ("0.3", False),
        ("5.0", True),
    ]
    lines = [(Decimal(grams), stable) for grams, stable in steps]
    assert [stream.unasked(*line) for line in lines] == [stream.line(*line) for line in lines]
    assert not any(request.unasked(*line) for line in lines)
    # The second load in the same cup is not sent: the pan was not empty in between.
    assert [rest.unasked(*line) != b"" for line in lines] == [False, False, True, False, False, False, True]
    assert [stream.streams, request.streams, rest.streams] == [True, False, False]


def test_a_hobby_board_greets_when_its_port_is_opened() -> None:
    assert Voice("diy-board").greeting.endswith(b"Press T to tare\r\n")
    assert Voice("sign-16").greeting == b""
