"""A whole station with every part fitted, the addresses of its map, and a paired browser that goes through them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from flask import Flask
from playwright.sync_api import Browser
from werkzeug.routing import Rule

from station import app as composition
from station.phone import app as phone_app
from station.sheet_form.kinds import OF_MATERIAL, OF_MOLD
from station.store.ledger import SqlLedger
from station.testing import ScriptedClock
from station.worksheets.catalogue import chapters
from station.worksheets.guides import GUIDES
from tests.browser.conftest import DEADLINE_MS, left, paired_by_hand
from tests.phone.judged_part import judged
from tests.phone.small_learning import LEARNED
from tests.phone.whole_map import SENSE
from tests.play import FOAM, Play
from tests.system.guarded_process import ROOT
from tests.system.whole import Whole

HEIGHT = 740
FILL = {**SENSE, "number": ["1"]}
"""What may stand for a part of an address, by its name."""
BY_RULE: dict[str, list[dict[str, str]]] = {
    "/work/<key>": [{"key": sheet.key} for chapter in chapters() for sheet in chapter.sheets],
    "/work/<key>.json": [{"key": "box"}],
    "/work/<key>/<int:number>.svg": [{"key": "box", "number": "1"}],
    "/work/guides/<key>": [{"key": guide.key} for guide in GUIDES],
    "/molds/<key>": [{"key": "own-pad"}],
    "/molds/<key>/change": [{"key": "own-pad"}],
    "/materials/<key>/change": [{"key": "own-silicone"}],
    "/judge/<int:number>": [{"number": "2"}],
    # Those of a positive are known once it is measured.
    "/positive/<key>": [],
    "/positive/<key>.png": [],
    # Those of a photo once it is sent.
    "/log/<int:number>/photos/<photo>.jpg": [],
    "/log/<int:number>/photos/small/<photo>.jpg": [],
}
NO_PAGES = {"static", "api.stream"}
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
    """One cast whose demold alarm sounds, one whose part is judged, and one at the bench of which A is weighed."""
    play = Play()
    play.silicone_in_the_mold()
    play.silicone_in_the_mold()
    judged(play, 2)
    play.wait(14_460, tick_s=60)
    play.begin(FOAM, "160")
    play.put("24.3")
    play.pour("40.0", g_per_s=20)
    for told in LEARNED:
        play.send(told)
    return play


@contextmanager
def whole_station(folder: Path) -> Iterator[tuple[Whole, Flask]]:
    """The station and its pages, busy as above."""
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
        # One browser leafs through more pages in a minute than a person in an hour; limits have tests of their own.
        patch.setattr(phone_app, "RATES", {})
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
        self.page.on("console", lambda line: self.note(line.text) if line.type in ("error", "warning") else None)
        self.page.on("pageerror", lambda error: self.note(str(error)))

    def note(self, what: str) -> None:
        self.wrong.append(f"{urlsplit(self.page.url).path}: {what}")

    def _requested(self, request: Any) -> None:
        if not request.url.startswith((self.url, "data:", "blob:")):
            self.note(f"asks {request.url}")

    def pair(self) -> None:
        paired_by_hand(self.page, self.url, lambda: self.whole.codes)

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

    def close(self) -> None:
        left(self.page)
        self.context.close()
