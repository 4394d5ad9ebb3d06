"""Every page of the station, found from its own map: nothing foreign asked for, no error, nothing too wide.

A page that is new is found by itself. An address with a part that this test cannot fill in fails until it is told how.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from flask import Flask
from playwright.sync_api import Browser, expect

from station.phone.files import page_root
from tests.browser.everywhere import HEIGHT, Visit, addresses, whole_station
from tests.browser.measured import SIZES, TOO_WIDE
from tests.system.whole import Whole

pytestmark = pytest.mark.browser

SCHEME = """() => {
  const sum = (colour) => colour.match(/\\d+/g).slice(0, 3).reduce((all, part) => all + Number(part), 0);
  const style = (e) => getComputedStyle(e);
  return sum(style(document.documentElement).backgroundColor) > sum(style(document.body).color) ? 'light' : 'dark';
}"""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Flask]]:
    with whole_station(tmp_path_factory.mktemp("station")) as made:
        yield made


class Sizes(Visit):
    """Looks at each page in each scheme and size."""

    def look(self, address: str) -> None:
        """Once in each scheme, and in all sizes."""
        for scheme in ("light", "dark"):
            self.page.emulate_media(color_scheme=scheme)
            if scheme == "light":
                self.page.set_viewport_size({"width": 360, "height": HEIGHT})
                with self.page.expect_request(f"{self.url}/api/stream"):
                    self.page.goto(f"{self.url}{address}")
                assert self.page.locator("h1:visible").count() == 1, address
            if self.page.evaluate(SCHEME) != scheme:
                self.note(f"is not {scheme}")
        for width, times in SIZES:
            self.page.set_viewport_size({"width": width, "height": HEIGHT})
            self.page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{106.25 * times}%")
            if out := self.page.evaluate(TOO_WIDE):
                self.note(f"wider than {width} with text {times} times as large: {out}")


def test_the_map_holds_the_pages_that_everybody_knows(whole: tuple[Whole, Flask]) -> None:
    found = addresses(whole[1])
    assert {"/", "/curing", "/log", "/log/1", "/new", "/work", "/scale", "/record", "/time"} <= set(found)


def test_every_page_stays_at_home_makes_no_error_and_fits(whole: tuple[Whole, Flask], browser: Browser) -> None:
    station, app = whole
    visit = Sizes(browser, station)
    try:
        visit.pair()
        expect(visit.page.locator(".alarm")).to_have_count(1)
        pages = [address for address in addresses(app) if visit.is_page(address)] + [visit.measure()]
        assert len(pages) > 20
        for address in pages:
            visit.look(address)
    finally:
        visit.close()
    assert not visit.wrong, "\n".join(visit.wrong)


def test_the_check_bites(whole: tuple[Whole, Flask], browser: Browser) -> None:
    visit = Sizes(browser, whole[0])
    try:
        visit.page.route("**/log", lambda route: route.fulfill(content_type="text/html", body=SPOILT))
        visit.look("/log")
    finally:
        visit.close()
    said = " ".join(visit.wrong)
    assert "asks http://127.0.0.2:9/picture.png" in said
    assert "a mistake" in said
    assert "wider than 320" in said
    assert "wider than 1280" not in said
    assert "is not dark" in said


SPOILT = """<!doctype html><html lang="en" style="background: #fff; color: #000"><h1>Log</h1>
<img src="http://127.0.0.2:9/picture.png" alt=""><p style="width: 500px">wide</p>
<script>fetch('/api/stream'); console.error('a mistake');</script>"""


def test_text_follows_the_size_that_a_person_has_set_in_the_browser() -> None:
    styles = [file.read_text() for file in (page_root() / "static").glob("*.css")]
    assert len(styles) > 3
    # A size in pixels would stay as it is. (The words inside a drawing grow with the drawing.)
    assert [
        found for style in styles for found in re.findall(r"(?<!\.trend text { )font(?:-size)?:[^;}]*\dpx", style)
    ] == []
