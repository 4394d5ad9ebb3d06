"""The simulated voices against the grammars: two programs from the same layouts must agree."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.errors import SettingsError
from station.scale.decoded import Frame
from station.scale.families import FAMILIES
from station.scale.meaning import Kind
from station.scale.recording import decode
from station.simulated.voices import Voice
from station.simulated.voices.table import LAYOUTS

loads = st.integers(-9999, 99999).map(lambda n: (Decimal(n) / 10).quantize(Decimal("0.1")))
SILENT_ABOUT_REST = {
    "sign-26", "short-14", "stx-xor", "mirror-equals", "prefix-wn", "xon-frame", "echo-label", "value-unit",
    "bare-number", "diy-board", "ticket",
}  # fmt: skip
SILENT_ABOUT_UNIT = {
    "bare-number", "csv-flag", "enq-five", "mirror-equals", "status-letter-6", "stx-weight-cr", "stx-xor",
}  # fmt: skip
NO_LOAD_WHILE_MOVING = {"enq-five", "stx-weight-cr"}
BLANK_UNIT_WHILE_MOVING = {"sign-16", "sign-22", "blank-18"}


def said(family: str, grams: Decimal, stable: bool, overload: bool = False) -> Frame:
    line = Voice(family).line(grams, stable, overload)
    frames = decode(family, line)
    return frames[-1] if family == "ticket" else frames[0]


@settings(deadline=None)
@given(st.sampled_from(sorted(LAYOUTS)), loads, st.booleans())
def test_what_a_voice_says_is_read_as_that_load(family: str, grams: Decimal, stable: bool) -> None:
    frame = said(family, grams, stable)
    if family == "enq-five" and grams < 0:
        assert (frame.kind, frame.value) == (Kind.UNDERLOAD, None)
        return
    if family in NO_LOAD_WHILE_MOVING and not stable:
        assert (frame.kind, frame.value, frame.stable) == (Kind.OTHER, None, False)
        return
    voice = Voice(family)
    value = grams.scaleb(-3) if voice.unit == "kg" else grams.scaleb(voice.implied_decimals or 0)
    assert (frame.kind, frame.value) == (Kind.WEIGHT, value)
    unit_said = family not in SILENT_ABOUT_UNIT and (stable or family not in BLANK_UNIT_WHILE_MOVING)
    if family not in BLANK_UNIT_WHILE_MOVING:
        assert frame.grams == (grams if unit_said else None)
    if family in SILENT_ABOUT_REST:
        assert frame.stable is None
    else:
        assert frame.stable in (stable, None)


@pytest.mark.parametrize("family", sorted(LAYOUTS))
@pytest.mark.parametrize("grams", ["3000.1", "-3000.1"])
def test_out_of_range_is_never_a_load(family: str, grams: str) -> None:
    frame = said(family, Decimal(grams), False, overload=True)
    assert frame.kind is not Kind.WEIGHT
    assert frame.value is None


def test_every_family_of_the_grammars_has_a_voice() -> None:
    assert set(FAMILIES) <= set(LAYOUTS)


def test_a_voice_that_is_not_spoken_is_refused_with_those_that_are() -> None:
    with pytest.raises(SettingsError, match="status-commas"):
        Voice("semaphore")
