"""The simulated voices against the grammars: two programs from the same layouts must agree."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.errors import SettingsError
from station.scale.families import FAMILIES
from station.scale.meaning import Kind
from station.scale.recording import decode
from station.simulated.voices import Voice

loads = st.integers(-30000, 300000).map(lambda n: (Decimal(n) / 10).quantize(Decimal("0.1"))) | st.integers(
    -99999, 999998
).map(lambda n: (Decimal(n) / 100).quantize(Decimal("0.01")))
SILENT_ABOUT_REST = ("value-unit", "bare-number")


@settings(deadline=None)
@given(st.sampled_from(sorted(FAMILIES)), loads, st.booleans())
def test_what_a_voice_says_is_read_as_that_load(family: str, grams: Decimal, stable: bool) -> None:
    (frame,) = decode(family, Voice(family).line(grams, stable))
    assert (frame.kind, frame.value) == (Kind.WEIGHT, grams)
    assert frame.grams == (None if family == "bare-number" else grams)
    assert frame.stable == (None if family in SILENT_ABOUT_REST else stable)


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize(("grams", "kind"), [("3000.1", Kind.OVERLOAD), ("-3000.1", Kind.UNDERLOAD)])
def test_out_of_range_is_said_without_a_load(family: str, grams: str, kind: Kind) -> None:
    (frame,) = decode(family, Voice(family).line(Decimal(grams), False, overload=True))
    assert (frame.kind, frame.value) == (kind, None)


def test_lines_of_one_voice_are_all_of_one_length_up_to_three_kilograms() -> None:
    for family in FAMILIES:
        voice = Voice(family)
        assert (
            len({len(voice.line(Decimal(g), s)) for g in ("0.0", "-0.5", "62.4", "2999.9") for s in (True, False)}) == 1
        )


def test_a_scale_that_is_asked_answers_each_request_however_it_is_cut() -> None:
    voice, said = Voice("reply-letter"), b""
    for piece in (b"S", b"I\r", b"\nSI\r\nS", b"\r\nQ\r\n"):
        said += voice.answer(piece, Decimal("12.3"), stable=False)
    assert said == b"S D       12.3 g\r\n" * 2 + b"S I\r\nES\r\n"
    assert not voice.streams


def test_a_scale_that_streams_does_not_answer() -> None:
    assert Voice("value-unit").answer(b"SI\r\n", Decimal("1.0"), stable=True) == b""


def test_a_voice_that_is_not_spoken_is_refused_with_those_that_are() -> None:
    with pytest.raises(SettingsError, match="status-commas"):
        Voice("sign-16")
