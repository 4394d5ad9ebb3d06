"""German is longer than English: no page of the map and no state of a weighing is too wide in it.

What each page looks like is proved in English; here is only how wide it becomes, where it is narrowest.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from flask import Flask
from playwright.sync_api import Browser, Page

from station.languages import begin_to_speak
from station.phone.server import serving
from tests.browser.conftest import Shop
from tests.browser.everywhere import HEIGHT, Visit, addresses, whole_station
from tests.browser.measured import TOO_WIDE
from tests.phone.shown import opened_station
from tests.system.whole import Whole
from tests.words.test_bench_said import Watched, disturbed, one_cup, too_much, two_cups

pytestmark = pytest.mark.browser

NARROW = ((320, 1), (360, 2))
"""Width of the screen, and how many times as large the text is as by default."""


@pytest.fixture(scope="module", autouse=True)
def _german() -> Iterator[None]:
    begin_to_speak("de")
    yield
    begin_to_speak("en")


def too_wide(page: Page) -> list[str]:
    """What sticks out, at each size."""
    found = []
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    for width, times in NARROW:
        page.set_viewport_size({"width": width, "height": HEIGHT})
        page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{106.25 * times}%")
        if out := page.evaluate(TOO_WIDE):
            found.append(f"wider than {width} with text {times} times as large: {out}")
    return found


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Flask]]:
    with whole_station(tmp_path_factory.mktemp("station")) as made:
        yield made


def test_no_page_of_the_map_is_too_wide(whole: tuple[Whole, Flask], browser: Browser) -> None:
    station, app = whole
    visit = Visit(browser, station)
    found: list[str] = []
    try:
        visit.pair()
        pages = [address for address in addresses(app) if visit.is_page(address)] + [visit.measure()]
        assert len(pages) > 20
        for address in pages:
            visit.page.goto(f"{visit.url}{address}")
            assert visit.page.locator("html").get_attribute("lang") == "de"
            found += [f"{address} {line}" for line in too_wide(visit.page)]
    finally:
        visit.close()
    assert not found, "\n".join(found)


def test_no_state_of_a_weighing_is_too_wide(browser: Browser) -> None:
    found: dict[str, str] = {}
    states = []
    for course in (one_cup, two_cups, too_much, disturbed):
        play = Watched()
        course(play)
        # One for each title and alarm: of what else changes, numbers are as wide in any language.
        states += {(seen.bench and seen.bench.title, bool(seen.alarms)): seen for seen in play.seen.values()}.values()
    with opened_station() as station:
        station.post(states[0])
        with (
            serving(station.app, "127.0.0.1", 0, station.streams.end) as port,
            Shop(station, browser, port).page({"width": 320, "height": HEIGHT}, paired=True) as page,
        ):
            for seen in states:
                station.post(seen)
                page.reload()
                title = seen.bench.title if seen.bench else ""
                for line in too_wide(page):
                    found.setdefault(line, title)
                assert page.get_by_text(title).count() or not title
    assert len({seen.bench.title for seen in states if seen.bench}) > 10
    assert not found, "\n".join(f"{title}: {line}" for line, title in found.items())
