"""Every page of the station, found from its own map: nothing foreign asked for, no error, nothing too wide.

A page that is new is found by itself. An address with a part that this test cannot fill in fails until it is told how.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit

import pytest
from flask import Flask
from playwright.sync_api import Browser, expect
from werkzeug.routing import Rule

from station import app as composition
from station.phone.files import page_root
from station.sheet_form.kinds import OF_MATERIAL, OF_MOLD
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from station.worksheets.catalogue import chapters
from station.worksheets.guides import GUIDES
from tests.browser.conftest import DEADLINE_MS
from tests.core.test_answered import cured
from tests.phone.whole_map import SENSE
from tests.play import FOAM, Play
from tests.system.guarded_process import ROOT
from tests.system.whole import Whole

pytestmark = pytest.mark.browser

FILL = {**SENSE, "number": ["1"]}
"""What may stand for a part of an address, by its name."""
BY_RULE: dict[str, list[dict[str, str]]] = {
    "/work/<key>": [{"key": sheet.key} for chapter in chapters() for sheet in chapter.sheets],
    "/work/<key>.json": [{"key": "box"}],
    "/work/<key>/<int:number>.svg": [{"key": "box", "number": "1"}],
    "/work/guides/<key>": [{"key": guide.key} for guide in GUIDES],
    "/molds/<key>/change": [{"key": "own-pad"}],
    "/materials/<key>/change": [{"key": "own-silicone"}],
    # Those of a positive are known once it is measured.
    "/positive/<key>": [],
    "/positive/<key>.png": [],
}
NO_PAGES = {"static", "api.stream"}
SIZES = [(320, 1), (360, 1), (1280, 1), (360, 2), (1280, 2)]
"""Width of the screen, and how many times as large the text is as by default."""
HEIGHT = 740

TOO_WIDE = """() => {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const out = (e) => e.getBoundingClientRect().right > width + 0.5;
  const rolls = (e) => e && (getComputedStyle(e).overflowX !== 'visible' || rolls(e.parentElement));
  const last = [...document.body.querySelectorAll('*')].filter((e) => out(e) && ![...e.children].some(out));
  const named = (e) => `${e.parentElement.outerHTML.split('>')[0]}>${e.outerHTML.slice(0, 90)}`;
  return [document.documentElement.scrollWidth, ...last.filter((e) => !rolls(e)).slice(0, 4).map(named)];
}"""
"""What sticks out at the right, for who mends it."""
SCHEME = """() => {
  const sum = (colour) => colour.match(/\\d+/g).slice(0, 3).reduce((all, part) => all + Number(part), 0);
  const style = (e) => getComputedStyle(e);
  return sum(style(document.documentElement).backgroundColor) > sum(style(document.body).color) ? 'light' : 'dark';
}"""


HERE, X, Y, Z = "0 0 0", "20 0 0", "0 20 0", "0 0 20"
CORNER = "\n".join(
    ["solid corner"]
    + [
        line
        for facet in ((HERE, Y, X), (HERE, X, Z), (HERE, Z, Y), (X, Y, Z))
        for line in ("facet normal 0 0 0", "outer loop", *(f"vertex {at}" for at in facet), "endloop", "endfacet")
    ]
    + ["endsolid corner\n"]
)
"""A mesh to be measured: three edges of 20 mm that meet at right angles."""


def busy_bench() -> Play:
    """One cast whose demold alarm sounds, and one at the bench of which A is weighed."""
    play = cured()
    play.begin(FOAM, "160")
    play.put("24.3")
    play.pour("40.0", g_per_s=20)
    return play


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Flask]]:
    folder = tmp_path_factory.mktemp("station")
    (folder / "sheets").mkdir()
    for kind, shipped, title, own in (
        (OF_MATERIAL, "example-silicone", "Addition-cure", "own-silicone"),
        (OF_MOLD, "kayak-seat-pad", "Kayak", "own-pad"),
    ):
        table = kind.table
        first = (ROOT / f"station/examples/{table}s.toml").read_text().split(f"[[{table}]]")[1]
        sheet = first.replace(shipped, own).replace(title, "Own").replace("example = true", "")
        (folder / "sheets" / kind.file(own)).write_text(f"[[{table}]]{sheet}")
    play = busy_bench()
    with SqlLedger(folder) as ledger:
        ledger.write(play.entries, play.traces)
    made: list[Flask] = []
    create = composition.create_app

    def creating(web: Any) -> Flask:
        made.append(create(web))
        return made[-1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(composition, "create_app", creating)
        with Whole(folder, ScriptedClock(play.wall, play.boot_s)) as station:
            yield station, made[0]


def filled(rule: Rule) -> list[dict[str, str]]:
    if rule.rule in BY_RULE:
        return BY_RULE[rule.rule]
    ways: list[dict[str, str]] = [{}]
    for argument in sorted(rule.arguments):
        assert argument in FILL, f"say in FILL or BY_RULE what may stand for <{argument}> in {rule.rule}"
        ways = [{**way, argument: value} for way in ways for value in FILL[argument]]
    return ways


def addresses(app: Flask) -> list[str]:
    rules = [rule for rule in app.url_map.iter_rules() if "GET" in (rule.methods or ())]
    with app.test_request_context():
        return sorted(
            app.url_for(rule.endpoint, **way) for rule in rules if rule.endpoint not in NO_PAGES for way in filled(rule)
        )


class Visit:
    """One paired browser that goes through the pages and keeps what was wrong with them."""

    def __init__(self, browser: Browser, whole: Whole) -> None:
        self.whole = whole
        self.url = whole.station.url.rstrip("/")
        self.context = browser.new_context(viewport={"width": 360, "height": HEIGHT})
        self.context.set_default_timeout(DEADLINE_MS)
        self.page = self.context.new_page()
        self.wrong: list[str] = []
        self.page.on("request", self._requested)
        self.page.on("console", lambda line: self._note(line.text) if line.type in ("error", "warning") else None)
        self.page.on("pageerror", lambda error: self._note(str(error)))

    def _note(self, what: str) -> None:
        self.wrong.append(f"{urlsplit(self.page.url).path}: {what}")

    def _requested(self, request: Any) -> None:
        if not request.url.startswith((self.url, "data:", "blob:")):
            self._note(f"asks {request.url}")

    def pair(self) -> None:
        self.page.goto(f"{self.url}/pair")
        self.page.get_by_role("button", name="Show a code at the bench").click()
        self.page.get_by_label("Code").fill(self.whole.codes[-1])
        self.page.get_by_role("button", name="Pair", exact=True).click()
        self.page.wait_for_url(f"{self.url}/")

    def measure(self) -> str:
        """Send a mesh; gives the address of its page."""
        self.page.goto(f"{self.url}/positive")
        file = {"name": "corner.stl", "mimeType": "model/stl", "buffer": CORNER.encode()}
        self.page.locator("input[type=file]").set_input_files(file)  # type: ignore[arg-type]
        self.page.locator("form:has(input[type=file]) button").first.click()
        self.page.wait_for_url(f"{self.url}/positive/*")
        return urlsplit(self.page.url).path

    def is_page(self, address: str) -> bool:
        answer = self.page.request.get(f"{self.url}{address}")
        page = answer.headers.get("content-type", "").startswith("text/html")
        if answer.status >= (400 if page else 500):
            self.wrong.append(f"{address}: answered {answer.status}")
        return page and answer.status < 400

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
                self._note(f"is not {scheme}")
        for width, times in SIZES:
            self.page.set_viewport_size({"width": width, "height": HEIGHT})
            self.page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{106.25 * times}%")
            if out := self.page.evaluate(TOO_WIDE):
                self._note(f"wider than {width} with text {times} times as large: {out}")

    def close(self) -> None:
        self.page.goto("about:blank")
        self.context.close()


def test_the_map_holds_the_pages_that_everybody_knows(whole: tuple[Whole, Flask]) -> None:
    found = addresses(whole[1])
    assert {"/", "/curing", "/log", "/log/1", "/new", "/work", "/scale", "/record", "/time"} <= set(found)


def test_every_page_stays_at_home_makes_no_error_and_fits(whole: tuple[Whole, Flask], browser: Browser) -> None:
    station, app = whole
    visit = Visit(browser, station)
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
    visit = Visit(browser, whole[0])
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
