"""The air's humidity at the bench: kept with the plan, told where the material minds it."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.mass import Mass
from station.core.mix_amount import Amount
from station.core.planning import planned
from station.core.queue_messages import QueueCast, TakeQueued
from station.core.standing import Standing
from station.sheets import read_sheets
from station.store.codec import decode, encode
from tests.play import GRIP, PLACE, SILICONE, Play, replay_equals_live

SHEETS = {sheet.key: sheet for sheet in read_sheets(()).materials}
FOAM = SHEETS["example-foam"]


@pytest.mark.parametrize(("percent", "words"), [(72.0, "72 % humidity"), (None, ""), (40.0, "")])
def test_a_urethane_in_damp_air_is_warned_of_before_the_first_cup(percent: float | None, words: str) -> None:
    plan = planned(FOAM, GRIP, Mass.grams(160), place=replace(PLACE, humidity_percent=percent), standing=Standing())
    told = [warning for warning in plan.warnings if "humidity" in warning]
    assert bool(told) == bool(words)
    assert all(words in warning for warning in told)
    assert plan.humidity_percent == percent


def test_an_addition_silicone_does_not_mind() -> None:
    plan = planned(SILICONE, GRIP, Mass.grams(160), place=replace(PLACE, humidity_percent=80.0), standing=Standing())
    assert not [warning for warning in plan.warnings if "humidity" in warning]


def test_each_change_is_an_entry_and_the_same_again_is_none() -> None:
    play = Play()
    for percent in (48.0, 48.0, 55.0, None, None):
        play.send(msg.Humidity(percent))
    noted = [entry.event.percent for entry in play.entries if isinstance(entry.event, ev.HumidityNoted)]
    assert noted == [48.0, 55.0, None]
    assert play.standing.humidity_percent is None
    replay_equals_live(play)


def test_a_plan_that_waited_is_made_for_the_air_in_which_it_begins() -> None:
    play = Play()
    play.send(msg.Humidity(40.0))
    amount, place = Amount(Mass.grams(160), "160 g"), replace(PLACE, humidity_percent=40.0)
    plan = planned(FOAM, GRIP, amount, place=place, standing=play.standing)
    play.send(QueueCast(plan, amount, None, "160 g", "page"))
    play.send(msg.Humidity(75.0))
    play.send(TakeQueued(None, "page"))
    assert play.cast.plan.humidity_percent == 75.0
    assert any("75 % humidity" in warning for warning in play.cast.plan.warnings)
    replay_equals_live(play)


def test_a_plan_without_it_is_written_as_before_it_was_kept() -> None:
    play = Play()
    play.begin(SILICONE, "110")
    begun = next(entry.event for entry in play.entries if isinstance(entry.event, ev.CastBegun))
    kind, text = encode(begun)
    assert "humidity" not in text
    damp = replace(begun, plan=replace(begun.plan, humidity_percent=61.0))
    assert json.loads(encode(damp)[1])["plan"]["humidity_percent"] == 61.0
    assert decode(*encode(damp)) == damp
    assert decode(kind, text) == begun
