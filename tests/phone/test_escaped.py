"""Whatever a sheet, a scale, a file or a person says is text on every page, never markup.

Every part of a whole station is replaced by one that speaks with an evil tongue: each text it gives ends in markup.
"""

from __future__ import annotations

import copy
import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from enum import Enum
from typing import Any

import pytest

from station.board import Board
from station.phone.app import create_app
from station.phone.doorkeeper import Doorkeeper
from tests.phone.shown import CURING, WEIGHING, SmallShelf
from tests.phone.small_book import SmallBook, year
from tests.phone.small_learning import SmallLearning, busy
from tests.phone.small_log import SmallLog
from tests.phone.whole_map import OURS, TOKEN, Map, places, whole_map

EVIL = "<script>alert(1)</script>'\"&"
RAW, ESCAPED = "<script>alert(1)", "&lt;script&gt;alert(1)"
SPEAKING = {
    "/": 10,
    "/curing": 3,
    "/log": 3,
    "/log/1": 20,
    "/new": 3,
    "/stock": 2,
    "/materials": 3,
    "/scale": 2,
    "/record": 1,
    "/climate": 1,
    "/benches": 2,
    "/devices": 3,
    "/insight": 5,
    "/insight/differences": 3,
    "/insight/advice": 4,
    "/insight/trials": 1,
    "/insight/trials/1": 5,
}
"""How often, at least, each of these pages repeats what its part has said: else nothing is proved by its silence."""


def spoiled(value: Any) -> Any:
    """The value, with every text in it spoiled; what checks its values is not asked."""
    match value:
        case Enum() | type():
            return value
        case str():
            return value + EVIL
        case Mapping():
            return {name: spoiled(each) for name, each in value.items()}
        case tuple() | list():
            return type(value)(spoiled(each) for each in value)
        case _ if is_dataclass(value):
            twin = copy.copy(value)
            for one in fields(value):
                object.__setattr__(twin, one.name, spoiled(getattr(value, one.name)))
            return twin
        case _:
            return value


@dataclass
class Evil:
    """Does what `real` does, and says it with an evil tongue."""

    real: Any

    def __getattr__(self, name: str) -> Any:
        found = getattr(self.real, name)
        if not callable(found):
            return spoiled(found)
        return functools.wraps(found)(lambda *args, **named: spoiled(found(*args, **named)))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Map]:
    with whole_map(tmp_path_factory.mktemp("state")) as opened:
        board = Board()
        board.post(replace(WEIGHING, curing=CURING))
        web = opened.web
        speaking = {
            name: Evil(getattr(web, name)) for name in ("desk", "climate", "stock", "record", "benches", "sheets")
        }
        door = Doorkeeper(web.clock, opened.codes.append)
        opened.web = replace(
            web,
            board=Evil(board),
            shelf=Evil(SmallShelf()),
            log=Evil(SmallLog()),
            facts=Evil(SmallBook(year(30))),
            learning=Evil(busy(SmallLearning())),
            door=door,
            station=f"Bench {EVIL}",
            **speaking,
        )
        yield opened


def test_no_page_takes_for_markup_what_a_part_of_the_station_says(shop):
    app = create_app(shop.web)
    client = app.test_client()
    with client.session_transaction("/") as session:
        session["token"] = TOKEN
        shop.web.door.ask()
        session["pairing"] = shop.web.door.open(shop.web.door.waiting(), EVIL)
    said: dict[str, int] = {}
    for rule in app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()) or rule.endpoint in ("static", "api.stream"):
            continue
        for place in places(rule):
            shop.web.clock.advance(3600)
            answer = client.get(place, headers=OURS)
            text = answer.get_data(as_text=True)
            assert answer.status_code < 500, place
            if answer.mimetype in ("text/html", "image/svg+xml"):
                assert RAW not in text, place
            elif answer.is_json and isinstance(answer.get_json(), dict):
                assert RAW not in str(answer.get_json().get("html", "")), place
            else:
                assert answer.mimetype in ("image/png", "text/plain", "application/json"), place
            said[place] = text.count(ESCAPED)
    quiet = {place: (said.get(place), least) for place, least in SPEAKING.items() if said.get(place, 0) < least}
    assert quiet == {}


def test_a_page_that_forgot_to_escape_would_be_found(shop):
    app = create_app(replace(shop.web, desk=None))
    app.jinja_env.autoescape = False
    client = app.test_client()
    assert RAW in client.get("/").get_data(as_text=True)
