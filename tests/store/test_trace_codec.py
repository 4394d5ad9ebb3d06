"""Weighing traces stay exact and small."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import LedgerFault
from station.store.trace_codec import pack, unpack

POINTS = st.lists(st.tuples(st.integers(-1000, 10**8).map(lambda ms: ms / 1000), st.integers(-(10**9), 10**9)))


@given(POINTS)
def test_a_trace_comes_back_as_it_was(points: list[tuple[float, int]]) -> None:
    assert unpack(pack(points)) == tuple(points)


def test_a_minute_of_pouring_takes_a_fraction_of_its_text() -> None:
    points = [(tenth / 10, 12_300 + tenth * tenth * 3) for tenth in range(600)]
    assert len(pack(points)) < len(json.dumps(points)) / 4


@pytest.mark.parametrize("blob", [b"", b"no zlib", pack([(1.0, 2)])[:-3]])
def test_a_damaged_trace_is_told_in_a_sentence(blob: bytes) -> None:
    with pytest.raises(LedgerFault, match="weighing trace in the record is damaged"):
        unpack(blob)
