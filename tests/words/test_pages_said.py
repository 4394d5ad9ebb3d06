"""Every page says its words through the catalogue: shown by a language that puts each text in brackets."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from tests.phone.whole_map import Map, places, whole_map
from tests.store.photo_story import add
from tests.words.speaking import BEGIN, Marked, spoken
from tests.words.test_records_said import TOLD as OF_THE_CAST
from tests.words.test_records_said import troubled
from tests.words.unsaid import names, unsaid

NOT_YET = {
    "/work": "station/worksheets",
    "/work/<key>": "station/worksheets",
    "/work/guides/<key>": "station/worksheets",
}
"""Pages with words of parts that do not say them through the catalogue yet. This list only shrinks."""
TOLD = (
    *("By the <window>", "Left bench", "Cast 11, paddle grip: demold now.", "Ready to demold.", "Wait.", "grip <b>"),
    *("boot footbed", "paddle grip", "Wrenfield foam (invented)", "Wrenfield silicone (invented)", "Silicone"),
    *("status-commas", "8N1", "socket://host:number", "rfc2217://host:number", "test phone", "96 kg/m³"),
)
"""What other benches, devices and settings tell here: data, in whatever language it came."""


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
    known = names([shop.web.station, *TOLD, *OF_THE_CAST])
    seen = {rule: unsaid(page, known) for rule, page in pages(shop).items()}
    assert len(seen) > 20
    assert f"{BEGIN}Remove photo 1" in shop.client(paired=True).get("/log/1").get_data(as_text=True)
    assert {rule: words for rule, words in seen.items() if words and rule not in NOT_YET} == {}
    assert [rule for rule in NOT_YET if not seen.get(rule)] == [], "these are said now: take them out of NOT_YET"


def test_a_word_that_was_not_said_is_found():
    assert unsaid("<p>⟦Cast ⟦twelve⟧⟧ 41.6 g <b>Paddle grip</b></p>", ["Paddle grip"]) == []
    assert unsaid("<p>⟦Cast⟧ of <b>⟦today</b>⟧</p><input placeholder='type it'>", []) == ["of", "type it"]
