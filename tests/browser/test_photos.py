"""Photos on a cast's page in a real browser: sent, refused, shown and removed, also without a script, and on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from station.phone.server import serving
from station.photos.taking import take
from station.records import PhotoRecord, RemarkRecord
from tests.browser.conftest import DESK, PHONE, Shop
from tests.phone.shown import QUIET, opened_station
from tests.phone.small_log import RECORD, WALL, When
from tests.photos.pictures import bomb, jpeg, with_place

pytestmark = pytest.mark.browser

SMALL = """[...document.querySelectorAll('#photos button, #photos input:not([type=hidden]), #photos summary')]
    .map(e => e.getBoundingClientRect()).filter(r => r.height && r.height < 44).length"""
WIDER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


class Album:
    """A `PhotoDesk` in memory that really opens what it is given."""

    def __init__(self) -> None:
        self.photos: list[PhotoRecord] = []
        self._files: dict[tuple[str, bool], bytes] = {}

    def add(self, number: int, file: object, caption: str, by: str) -> None:
        taken = take(file)  # type: ignore[arg-type]
        name = f"{len(self.photos):016x}"
        self._files |= {(name, False): taken.picture, (name, True): taken.small}
        added = RemarkRecord(When(WALL, True), "photo added", by)
        self.photos.append(PhotoRecord(name, "d", "s", taken.wide, taken.high, caption, added))

    def remove(self, number: int, name: str, by: str) -> None:
        gone = RemarkRecord(When(WALL, True), "photo removed", by)
        self.photos = [replace(one, removed=gone) if one.name == name else one for one in self.photos]

    def picture(self, number: int, name: str, *, small: bool) -> bytes | None:
        return self._files.get((name, small))


@pytest.fixture
def shop(browser: Browser) -> Iterator[Shop]:
    album = Album()
    with opened_station(photos=album) as station:
        station.log.record = lambda number: replace(RECORD, number=number, photos=tuple(album.photos))  # type: ignore[method-assign]
        station.post(replace(QUIET, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def file_of(folder: Path, name: str, content: bytes) -> str:
    (folder / name).write_bytes(content)
    return str(folder / name)


def shown(page: Page) -> int:
    """How many pictures are there, each really drawn."""
    page.locator("#photos").scroll_into_view_if_needed()
    images = page.locator("#photos img")
    for image in images.all():
        image.scroll_into_view_if_needed()
        expect(image).to_have_js_property("complete", True)
        assert image.evaluate("one => one.naturalWidth") > 0
    return images.count()


@pytest.mark.parametrize(("size", "script"), [(PHONE, False), (DESK, True)], ids=["phone, no script", "desk"])
def test_photos_are_sent_refused_and_removed(shop: Shop, tmp_path: Path, size: dict[str, int], script: bool) -> None:
    good = [file_of(tmp_path, f"{n}.jpg", with_place(n)) for n in (1, 6)]
    with shop.page(size, "/log/3", paired=True, java_script_enabled=script) as page:
        page.get_by_label("Or choose photos").set_input_files(good)
        page.get_by_label("What they show").fill("The edge, after demolding")
        page.get_by_role("button", name="Add the photos").click()
        expect(page.get_by_role("img", name="The edge, after demolding")).to_have_count(2)
        assert page.url.endswith("/log/3#photos")
        bad = [file_of(tmp_path, "moving.gif", b"GIF89a"), file_of(tmp_path, "large.png", bomb()), good[0]]
        page.get_by_label("Or choose photos").set_input_files(bad)
        page.get_by_label("What they show").fill("kept while refused")
        page.get_by_role("button", name="Add the photos").click()
        told = page.locator("#photo-slip")
        expect(told).to_contain_text("Photo 1 of 3 (“moving.gif”) was not added. It is a picture (GIF), not a photo.")
        expect(told).to_contain_text("Photo 2 of 3 (“large.png”) was not added. It has more than 50 million dots.")
        expect(told).to_be_in_viewport()
        expect(page.get_by_label("What they show")).to_have_value("kept while refused")
        if script:
            assert shown(page) == 3
        page.get_by_label("Take a photo").set_input_files(file_of(tmp_path, "one.jpg", jpeg(600, 1600)))
        page.get_by_role("button", name="Add the photos").click()
        expect(page.locator("#photos img")).to_have_count(4)
        page.get_by_text("Remove photo 2").first.click()
        page.get_by_role("button", name="Remove photo 2").click()
        expect(page.locator("#photos img")).to_have_count(3)
        expect(page.get_by_text("One photo was removed.")).to_be_visible()
        assert page.evaluate(WIDER) == 0
        assert page.evaluate(SMALL) == 0


def test_the_grid_fits_the_narrowest_phone_and_prints_small(shop: Shop, tmp_path: Path) -> None:
    with shop.page({"width": 320, "height": 640}, "/log/3", paired=True) as page:
        files = [file_of(tmp_path, f"{n}.jpg", jpeg(600 + 100 * n, 800)) for n in range(6)]
        page.get_by_label("Or choose photos").set_input_files(files)
        page.get_by_label("What they show").fill("a word that is as long as it can be made: " + "x" * 100)
        page.get_by_role("button", name="Add the photos").click()
        assert shown(page) == 6
        assert page.evaluate(WIDER) == 0
        page.emulate_media(media="print")
        page.set_viewport_size({"width": 720, "height": 1000})
        assert page.evaluate(WIDER) == 0
        printed = page.pdf(format="A4")
        assert len(re.findall(rb"/Type\s*/Page\b", printed)) <= 2
        assert len(re.findall(rb"/Subtype\s*/Image", printed)) >= 6
    assert shop.complaints == []
    assert all(url.startswith((shop.url, "about:")) for url in shop.requests)
