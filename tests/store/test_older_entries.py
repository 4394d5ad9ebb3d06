"""A record written before sheets knew chemistry and limits of use: plain time, and the sheet's pot life, as then."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.clocks import ClockKind
from station.core.drive import rate_of
from station.core.fold import replayed
from station.core.timing import age_s
from station.store.codec import decode, encode
from tests.play import GRIP, SILICONE, Play

# What each record held at first; a field that came later is not in an old text. Constructed from that version's layout.
MATERIAL = (
    *("key", "title", "components", "basis", "times", "tolerance_percent", "weigh_order", "pour_into", "additives"),
    *("cling_percent", "ready_items", "cautions", "example"),
)
COMPONENT = ("name", "parts", "density")
TIMES = ("pot_life_s", "mix_s", "pour_reserve_s", "demold_s", "full_cure_s", "reference_c")
MOLD = ("key", "title", "shot", "closes", "ready_items", "cautions")
LATER_IN_PLAN = ("pot_life_s",)


def only(record: dict[str, object], names: tuple[str, ...]) -> dict[str, object]:
    return {name: record[name] for name in names}


def as_first_written(entry: ev.Entry) -> ev.Entry:
    kind, text = encode(entry.event)
    content = json.loads(text)
    if kind == "CastBegun":
        plan = content["plan"]
        plan["material"] = only(plan["material"], MATERIAL)
        plan["material"]["components"] = [only(one, COMPONENT) for one in plan["material"]["components"]]
        plan["material"]["times"] = only(plan["material"]["times"], TIMES)
        plan["mold"] = only(plan["mold"], MOLD)
        for name in LATER_IN_PLAN:
            del plan[name]
    return ev.Entry(decode(kind, json.dumps(content)), entry.at)


@pytest.mark.parametrize("celsius", [9.0, 18.0, 31.0])
def test_an_old_record_counts_plain_time_at_any_temperature_and_the_sheet_s_pot_life(celsius: float) -> None:
    play = Play()
    play.send(msg.Temperature(celsius))
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("200")
    play.press()
    play.pour("20", g_per_s=3)
    play.wait(190)
    for _ in ("mixed", "poured", "cup not weighed"):
        play.press()
    play.wait(1800, tick_s=60)
    play.send(msg.Temperature(23.0))
    old = replayed([as_first_written(entry) for entry in play.entries])
    (cast,), (live,) = old.casts, play.standing.casts
    assert replace(cast, plan=live.plan) == live
    assert cast.plan.pot_life_s is None
    assert cast.plan.limit_s == 1800
    demold = cast.clock(ClockKind.DEMOLD)
    assert demold is not None
    assert cast.poured is not None
    since_s = play.now.boot_s - cast.poured.boot_s
    assert age_s(demold, play.now, rate_of(old, cast)) == pytest.approx(since_s)
