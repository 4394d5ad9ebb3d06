"""Every event there is survives the way to text and back."""

from __future__ import annotations

import json
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.mass import Mass
from station.errors import LedgerFault
from station.store.codec import KINDS, decode, encode
from tests.store.stories import foam_plan
from tests.store.strategies import of


@pytest.mark.parametrize("kind", get_args(ev.Event), ids=lambda kind: kind.__name__)
def test_every_event_comes_back_as_it_was(kind: type[ev.Event]) -> None:
    @settings(max_examples=40, deadline=None)
    @given(of(kind))
    def comes_back(event: ev.Event) -> None:
        name, text = encode(event)
        again = decode(name, text)
        assert again == event
        assert encode(again) == (name, text)

    comes_back()


def test_the_text_is_canonical() -> None:
    _, text = encode(ev.AlarmRaised(3, ClockKind.POT_LIFE, 2.0, "due"))
    assert text == '{"clock":"pot life","late_s":2.0,"number":3,"why":"due"}'
    # A whole number of seconds is the same span whichever way it was written.
    assert encode(ev.AlarmRaised(3, ClockKind.POT_LIFE, 2, "due"))[1] == text


def test_masses_are_whole_milligrams_and_steps_carry_their_kind() -> None:
    kind, text = encode(ev.CastBegun(1, foam_plan(), "page"))
    plan = json.loads(text)["plan"]
    assert kind == "CastBegun"
    assert plan["total"] == Mass.grams(300).mg == 300_000
    assert plan["steps"][5] == {"is": "Mix", "seconds": 15.0}
    assert plan["way"] == "two cups"


def test_an_unknown_kind_is_told_in_a_sentence() -> None:
    with pytest.raises(LedgerFault, match="does not know: 'Levitated'"):
        decode("Levitated", "{}")


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("Paused", "no json"),
        ("Paused", "[]"),
        ("Paused", "7"),
        ("Paused", "{}"),
        ("Paused", '{"number":"many","by":"x"}'),
        ("Paused", '{"number":1,"by":"x","colour":"red"}'),
        ("AlarmRaised", '{"number":1,"clock":"egg timer","late_s":0,"why":""}'),
        ("Recomputed", '{"number":1,"ingredient":"A","net":1,"over":1,"total":1,"steps":[{"is":"Dance"}],"words":""}'),
        ("FirstContact", '{"number":1,"at":{"boot_s":1,"boot_id":"b","wall":"2026-01-01","trusted":true},"how":""}'),
        ("Paused", "[" * 100_000),
    ],
)
def test_text_that_does_not_fit_is_told_in_a_sentence(kind: str, payload: str) -> None:
    with pytest.raises(LedgerFault, match=rf"The text of a {kind} event in the record"):
        decode(kind, payload)


@settings(max_examples=300, deadline=None)
@given(
    st.sampled_from(sorted(KINDS)),
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=4),
        lambda inner: (
            st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["number", "by", "at", "plan", "is"]), inner)
        ),
    ),
)
def test_no_garbage_raises_anything_but_a_fault(kind: str, content: object) -> None:
    event: ev.Event | None = None
    sentence = ""
    try:
        event = decode(kind, json.dumps(content))
    except LedgerFault as fault:
        sentence = fault.sentence()
    assert sentence or type(event).__name__ == kind


def test_a_number_that_is_not_finite_is_refused_before_it_is_written() -> None:
    with pytest.raises(ValueError, match="JSON"):
        encode(ev.TemperatureNoted(float("nan")))
