"""Each family's lines with their meaning, and what must never become a load."""

from __future__ import annotations

from decimal import Decimal

import pytest

from station.errors import SettingsError
from station.scale.families import FAMILIES, family_named
from station.scale.meaning import Kind, Mode
from station.scale.recording import decode
from tests.scale.lines import LINES, NOT_A_LOAD, WRITTEN, Line

FLAGGED = ("status-commas", "status-mode-commas")


@pytest.mark.parametrize("line", LINES, ids=lambda line: f"{line.family}:{line.raw!r}")
def test_a_line_has_its_published_meaning(line: Line) -> None:
    (frame,) = decode(line.family, line.raw)
    assert (frame.kind, frame.unit, frame.stable, frame.mode) == (line.kind, line.unit, line.stable, line.mode)
    assert (None if frame.value is None else str(frame.value)) == line.value
    assert frame.grams == line.exact_grams
    assert frame.family == line.family


def test_every_family_is_tried_with_loads_troubles_and_lines_that_are_neither() -> None:
    for family in WRITTEN:
        kinds = {line.kind for line in LINES if line.family == family}
        assert {Kind.WEIGHT, Kind.OVERLOAD, Kind.OTHER} <= kinds, family


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("raw", NOT_A_LOAD, ids=repr)
def test_other_instruments_tickets_and_torn_lines_are_no_load_in_any_family(family: str, raw: bytes) -> None:
    assert [frame.kind for frame in decode(family, raw) if frame.kind is not Kind.OTHER] == []


@pytest.mark.parametrize("line", [x for x in LINES if x.kind is Kind.WEIGHT], ids=lambda x: f"{x.family}:{x.raw!r}")
def test_a_line_cut_off_anywhere_gives_no_load_until_its_ender_has_come(line: Line) -> None:
    content = line.raw.rstrip(b"\r\n\x03\x8d\x8a")
    for end in range(len(content) + 1):
        assert [f.kind for f in decode(line.family, content[:end]) if f.kind is not Kind.OTHER] == []


@pytest.mark.parametrize(
    "line",
    # With something optional in front of the flags, a lost head may leave a whole line.
    [x for x in LINES if x.kind is Kind.WEIGHT and x.family in FLAGGED and x.raw.startswith((b"ST", b"US", b"PT"))],
    ids=lambda x: repr(x.raw),
)
def test_a_line_with_flags_that_lost_its_head_is_no_load(line: Line) -> None:
    for start in range(1, len(line.raw) - 1):
        for frame in decode(line.family, line.raw[start:]):
            # A number whose sign is its first byte has lost nothing but the flags, and says nothing of rest.
            headless = frame.raw[:1] in b"+-" and frame.value == Decimal(line.value or "")
            assert frame.kind is not Kind.WEIGHT or (headless and frame.stable is None)


def test_the_comma_families_do_not_read_each_other() -> None:
    assert [f.kind for f in decode("status-commas", b"ST,GS,+  1.234kg\r\n")] == [Kind.OTHER]
    assert [f.kind for f in decode("status-mode-commas", b"ST,+00123.45  g\r\n")] == [Kind.OTHER]


def test_an_answer_and_a_key_print_mixed_in_one_stream_are_both_read() -> None:
    frames = decode("reply-letter", b"S S     100.00 g\r\n     N     100.01 g   \r\nS D     100.02 g\r\n")
    assert [(str(f.value), f.stable, f.mode) for f in frames] == [
        ("100.00", True, None),
        ("100.01", None, Mode.NET),
        ("100.02", False, None),
    ]


def test_an_unknown_family_is_refused_with_the_known_ones() -> None:
    with pytest.raises(SettingsError) as refused:
        family_named("status-comma")
    assert "Did you mean 'status-commas'?" in str(refused.value)
    assert all(family in str(refused.value) for family in FAMILIES)


def test_the_table_is_keyed_by_the_names_in_it_and_its_samples_are_loads() -> None:
    for name, spec in FAMILIES.items():
        assert spec.id == name
        assert {frame.kind for frame in decode(name, spec.sample)} == {Kind.WEIGHT}
