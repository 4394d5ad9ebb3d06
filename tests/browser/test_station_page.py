"""The page Station and the way there, in a real browser: it fits, its code is read by a camera, its file is saved."""

import itertools
import zipfile
from dataclasses import replace

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import expect

from station.core.mass import Mass
from station.phone.server import serving
from station.phone.station_view import Fare, Part
from station.sheet_desk import SheetDesk
from tests.browser.conftest import DESK, PHONE, Shop
from tests.phone.shown import FREE, LIVE, QUIET, opened_station
from tests.phone.small_desk import SmallDesk
from tests.phone.small_overview import ADDRESSES, overview
from tests.typed_forms import MOLD

pytestmark = pytest.mark.browser

SMALLEST = {"width": 320, "height": 640}
SIZES = pytest.mark.parametrize("size", [SMALLEST, PHONE, DESK], ids=["smallest", "phone", "desk"])
SCHEMES = pytest.mark.parametrize("scheme", ["light", "dark"])
PARTS = {
    "Scale": Part("Scale", Fare.WELL, "It is read. Last checked on 2026-02-20: fit.", "/time"),
    "Time": Part("Time", Fare.WELL, "A time service was heard.", "/time"),
    "Record": Part("Record", Fare.WRONG, "3 entries are kept in memory and not on disk yet."),
    "Card": Part("Card", Fare.LOOK, "112 MiB are free. Free some space before the card is full."),
    "Supply": Part("Supply", Fare.UNKNOWN, "This computer does not tell whether its supply holds."),
    "Benches": Part("Benches", Fare.OFF, "This bench keeps a log of its own."),
}
HEAVY = replace(LIVE, gross=Mass.grams("-12345.6"), at_rest=True)


@pytest.fixture
def shop(browser):
    with overview(dict(PARTS)) as opened:
        del opened.addresses[3:]
        station = opened.station
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            yield Shop(station, browser, port)


def fits(page, size):
    return page.evaluate("document.documentElement.scrollWidth") <= size["width"]


@SCHEMES
@SIZES
def test_the_page_fits_and_every_way_in_its_head_can_be_touched(browser, tmp_path, size, scheme):
    with opened_station(desk=SmallDesk()) as station:
        station.post(replace(QUIET, seq=1, scale=HEAVY))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            shop = Shop(station, browser, port)
            with shop.page(size, "/station", color_scheme=scheme) as page:
                boxes = [link.bounding_box() for link in page.locator("nav a, .chip a").all()]
                assert len(boxes) == 6
                for box in boxes:
                    assert min(box["width"], box["height"]) >= 44
                    assert box["x"] >= 0
                    assert box["x"] + box["width"] <= size["width"]
                *ways, chip = boxes
                assert all(one["x"] + one["width"] <= other["x"] + 1 for one, other in itertools.pairwise(ways))
                assert len({box["y"] for box in ways}) == 1
                last = ways[-1]
                assert chip["x"] + 1 >= last["x"] + last["width"] or chip["y"] + 1 >= last["y"] + last["height"]
                assert fits(page, size)
                page.get_by_role("link", name="Scale: −12345.6 g at rest").click()
                page.wait_for_url("**/scale")
    assert shop.complaints == []


@SCHEMES
@SIZES
def test_a_camera_reads_the_address_from_the_screen(shop, tmp_path, size, scheme):
    with shop.page(size, "/station", paired=True, color_scheme=scheme) as page:
        expect(page.locator(".inall")).to_have_text("2 things need a look: Record, Card.")
        code = page.locator(".code2d").first
        box = code.bounding_box()
        assert box["width"] == box["height"] >= 160
        code.screenshot(path=tmp_path / "code.png")
        (found,) = zxingcpp.read_barcodes(Image.open(tmp_path / "code.png"))
        assert found.text == ADDRESSES[0].url
        for way in page.locator("main a, main button, main summary").all():
            assert way.bounding_box()["height"] >= 44
        assert fits(page, size)
        page.screenshot(path=tmp_path / f"station-{scheme}.png", full_page=True)
    assert shop.complaints == []


def test_the_file_is_saved_and_the_buzzer_sounds_without_a_script(shop, tmp_path):
    with shop.page(PHONE, "/station", paired=True, java_script_enabled=False) as page:
        with page.expect_download() as saved:
            page.get_by_role("button", name="Download the file for helpers").click()
        saved.value.save_as(tmp_path / "help.zip")
        assert "health.txt" in zipfile.ZipFile(tmp_path / "help.zip").namelist()
        page.get_by_role("button", name="Sound the buzzer").click()
        expect(page.get_by_role("status")).to_contain_text("Did you hear it?")


@SCHEMES
def test_a_mold_is_entered_on_a_phone_with_one_mistake_on_the_way(browser, tmp_path, scheme):
    with opened_station(molds=SheetDesk((), tmp_path)) as station:
        station.post(replace(FREE, seq=1))
        with serving(station.app, "127.0.0.1", 0, station.streams.end) as port:
            shop = Shop(station, browser, port)
            with shop.page(SMALLEST, "/station", paired=True, color_scheme=scheme) as page:
                page.get_by_role("link", name="Molds What each takes").click()
                page.get_by_role("link", name="Enter a mold").click()
                page.get_by_label("Short name").fill(MOLD["key"])
                page.get_by_label("Name", exact=True).fill(MOLD["title"])
                page.get_by_label("Volume of the cavity").fill("big")
                page.get_by_label("A lid is clamped on").select_option("yes")
                page.get_by_role("button", name="Keep it").click()
                field = page.get_by_label("Volume of the cavity")
                expect(field).to_have_value("big")
                expect(field).to_have_attribute("aria-invalid", "true")
                assert fits(page, SMALLEST)
                field.fill("1300 cm3")
                page.get_by_role("button", name="Keep it").click()
                expect(page.locator("#test-pad")).to_contain_text("1300 cm³")
                assert fits(page, SMALLEST)
                page.screenshot(path=tmp_path / f"molds-{scheme}.png", full_page=True)
    # The refused form is answered with 409, which the browser writes down.
    assert [line for line in shop.complaints if "409" not in line] == []
