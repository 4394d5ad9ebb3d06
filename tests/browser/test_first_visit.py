"""A phone that comes for the first time loads little, and one that comes back loads next to nothing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Shop
from tests.phone.shown import WEIGHING

pytestmark = pytest.mark.browser

MOST_BYTES = 60_000


class Wire:
    """What a page takes off the network, head and body, by the browser's own count; the stream never ends."""

    def __init__(self, page: Page) -> None:
        self.names: dict[str, str] = {}
        self.bytes: dict[str, int] = {}
        count = page.context.new_cdp_session(page)
        count.on("Network.requestWillBeSent", lambda e: self.names.update({e["requestId"]: e["request"]["url"]}))
        count.on("Network.loadingFinished", self._finished)
        count.send("Network.enable")

    def _finished(self, event: dict[str, object]) -> None:
        name = self.names.get(str(event["requestId"]))
        if name is None:
            return  # begun before the visit
        self.bytes[name] = self.bytes.get(name, 0) + int(str(event["encodedDataLength"]))

    @property
    def total(self) -> int:
        return sum(self.bytes.values())


@contextmanager
def visited(shop: Shop, place: str) -> Iterator[tuple[Page, Wire]]:
    with shop.page(PHONE, "/api/state") as page:
        wire = Wire(page)
        page.goto(f"{shop.url}{place}")
        page.wait_for_load_state("load")
        expect(page.get_by_role("button", name="Sound on this phone")).to_be_visible()
        yield page, wire


@pytest.mark.parametrize("place", ["/", "/curing", "/log", "/new", "/work", "/time"])
def test_a_first_visit_takes_at_most_sixty_thousand_bytes_off_the_wire(shop: Shop, place: str) -> None:
    shop.station.post(WEIGHING)
    with visited(shop, place) as (page, wire):
        icons = page.locator("#icon").evaluate("icon => [icon.dataset.calm, icon.dataset.alarm]")
        # This browser has no tab in which to draw an icon; a person's has.
        page.evaluate("icons => Promise.all(icons.map((icon) => fetch(icon).then((answer) => answer.blob())))", icons)
        kinds = {name.rsplit(".", 1)[-1] for name in wire.bytes}
        assert {"js", "css", "svg"} <= kinds
        assert 10_000 < wire.total <= MOST_BYTES, wire.bytes


def test_a_page_that_was_there_before_loads_no_style_and_no_script_again(shop: Shop) -> None:
    with visited(shop, "/") as (page, wire):
        first = wire.total
        before = dict(wire.bytes)
        page.goto(f"{shop.url}/curing")
        expect(page.get_by_role("heading", name="Curing")).to_be_visible()
        fetched = {name for name in wire.bytes if "/static/" in name and wire.bytes[name] != before.get(name)}
        assert fetched == set()
        assert wire.total > first
