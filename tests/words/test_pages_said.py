"""Every page says its words through the catalogue: shown by a language that puts each text in brackets."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.phone.files import page_root
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from station.worksheets.guides import GUIDES
from tests.phone.whole_map import Map, places, whole_map
from tests.store.photo_story import add
from tests.words.speaking import BEGIN, Marked, spoken
from tests.words.test_records_said import TOLD as OF_THE_CAST
from tests.words.test_records_said import troubled
from tests.words.unsaid import names, unsaid

TOLD = (
    *("By the <window>", "Left bench", "Cast 11, paddle grip: demold now.", "Ready to demold.", "Wait.", "grip <b>"),
    *("boot footbed", "paddle grip", "Wrenfield foam (invented)", "Wrenfield silicone (invented)", "Silicone"),
    *("status-commas", "8N1", "socket://host:number", "rfc2217://host:number", "test phone", "96 kg/m³"),
)
"""What other benches, devices and settings tell here: data, in whatever language it came."""
PLANNED = (
    *("small pair", "large pair", "kJ/mol", "exp", "log"),
    *("kg/m³", "cm²", "in³", "US fl oz", "imp fl oz", "g/cm3", "kg/m3", "cm3"),
)
"""Kits of the worked plans, the signs of their arithmetic, and units."""


def yesterdays_cast(folder: Path) -> None:
    """Leave the record of a cast with all its troubles and a photo, of a boot before the one of the shop."""
    clock = ScriptedClock(datetime(2026, 3, 1, 9, tzinfo=UTC))
    clock.reboot(60)
    with SqlLedger(folder) as ledger:
        ledger.write(troubled(clock).entries)
        add(ledger, folder, 1, "", clock.advance(10))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Map]:
    folder = tmp_path_factory.mktemp("shop")
    yesterdays_cast(folder)
    with spoken(Marked()), whole_map(folder) as found:
        yield found


def pages(shop: Map) -> dict[str, str]:
    """The rules whose answer is a page, each with its pages one after the other."""
    client = shop.client(paired=True)
    found: dict[str, str] = {}
    for rule in shop.rules():
        if rule.endpoint in ("static", "api.stream"):
            continue
        for place in places(rule):
            answer = client.get(place)
            if answer.mimetype == "text/html" and not 300 <= answer.status_code < 400:
                found[rule.rule] = found.get(rule.rule, "") + answer.get_data(as_text=True)
    return found


def test_every_word_on_every_page_is_said_through_the_catalogue(shop):
    known = names([shop.web.station, *TOLD, *PLANNED, *OF_THE_CAST])
    seen = {rule: unsaid(page, known) for rule, page in pages(shop).items()}
    assert len(seen) > 20
    assert f"{BEGIN}Remove photo 1" in shop.client(paired=True).get("/log/1").get_data(as_text=True)
    assert {rule: words for rule, words in seen.items() if words} == {}


def test_every_word_of_a_worked_out_worksheet_is_said_through_the_catalogue(shop):
    known = names([shop.web.station, *TOLD, *PLANNED])
    client = shop.client(paired=True)
    steps = [step for one in GUIDES for step in one.steps]
    seen = {step.address: unsaid(client.get(step.address).text, known) for step in steps}
    assert {address: words for address, words in seen.items() if words} == {}
    refused = client.get("/work/box?go=1&length=long&price=much")
    assert refused.status_code == 409
    assert unsaid(refused.text, [*known, "long", "much"]) == []


def test_a_word_that_was_not_said_is_found():
    assert unsaid("<p>⟦Cast ⟦twelve⟧⟧ 41.6 g <b>Paddle grip</b></p>", ["Paddle grip"]) == []
    assert unsaid("<p>⟦Cast⟧ of <b>⟦today</b>⟧</p><input placeholder='type it'>", []) == ["of", "type it"]


def test_no_style_holds_a_word():
    styles = "".join(file.read_text(encoding="utf-8") for file in (page_root() / "static").glob("*.css"))
    contents = re.findall(r'content:((?:[^;}"]|"[^"]*")*)', styles)
    told = [words for content in contents for words in re.findall(r'"([^"]*)"', content)]
    assert len(told) > 10
    assert [words for words in told if re.search(r"[^\W\d_]{2,}", words)] == []
