"""Log, sheet of a cast, curing and new cast in a real browser, on phone and desk, by day and by night."""

import re
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from station.core.clocks import ClockKind
from station.core.messages import Acknowledge, DropQueued, MoveQueued, QueueCast, TakeQueued
from station.core.snapshot import QueuedView
from tests.browser.conftest import DESK, PHONE
from tests.phone.shown import ALARM, CURING, FREE, QUIET, G
from tests.phone.small_log import PARTS, RECORD, WEIGHINGS
from tests.phone.test_new_pages import QUEUE

pytestmark = pytest.mark.browser

LOOKS = pytest.mark.parametrize(
    ("size", "scheme"), [(PHONE, "dark"), (DESK, "light")], ids=["phone, by night", "desk, by day"]
)
NARROW = {"width": 320, "height": 640}
BY = "page (a phone)"
WAITING = (QueuedView(1, "foam", "pad 1", G("100.0")), QueuedView(2, "foam", "pad 2", G("200.0")))


@LOOKS
def test_casts_are_found_narrowed_and_turned(shop, size, scheme):
    with shop.page(size, "/log", color_scheme=scheme) as page:
        page.get_by_role("searchbox").fill("kayak 4")
        page.get_by_role("button", name="Find").click()
        expect(page.locator("a.num")).to_have_text(["40", "34", "24", "14", "4"])
        page.get_by_text("Only some of them").click()
        page.get_by_label("How far it came").select_option(label="batch lost")
        page.get_by_role("button", name="Find").click()
        expect(page.locator("a.num")).to_have_text(["14"])
        page.get_by_role("searchbox").fill("grip")
        page.get_by_role("button", name="Find").click()
        page.get_by_role("link", name="the words").click()
        page.get_by_role("link", name="28", exact=True).click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Cast 28: kayak seat pad")
    assert shop.complaints == []


@LOOKS
def test_the_sheet_of_a_cast_shows_how_it_was_poured(shop, size, scheme):
    with shop.page(size, "/log/3", color_scheme=scheme, paired=True) as page:
        expect(page.locator(".off svg")).to_have_count(2)
        picture = page.get_by_role("img", name="B into the mixing cup: grams in the cup over 30 s")
        assert picture.bounding_box()["width"] >= 300
        page.get_by_text("The whole record as text").click()
        expect(page.locator("pre.record")).to_be_visible()
        page.get_by_role("link", name="Cast it again").click()
        page.wait_for_url(f"{shop.url}/new?again=3")
    assert shop.complaints == []


def test_the_sheet_of_a_cast_fits_one_sheet_of_paper(shop):
    full = replace(
        RECORD,
        ingredients=PARTS * 2,
        weighings=(WEIGHINGS[1],) * 6,
        presses=RECORD.presses * 5,
        alarms=RECORD.alarms * 4,
    )
    shop.station.log.record = lambda number: full
    with shop.page(DESK, "/log/3", color_scheme="dark") as page:
        printed = page.pdf(format="A4")
        assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1


@LOOKS
def test_a_curing_cast_says_not_before_when_and_its_bell_is_silenced_there(shop, size, scheme):
    shop.station.post(replace(QUIET, seq=2, curing=CURING, alarms=(ALARM,)))
    with shop.page(size, "/curing", color_scheme=scheme, paired=True) as page:
        first, second = page.locator("article.cast").all()
        expect(second.locator(".not-before")).to_contain_text("Not before")
        expect(second).to_contain_text("At the fastest it would be ready")
        expect(second.get_by_role("button", name="Silence the bell")).to_be_hidden()
        with page.expect_response("**/api/acknowledge"):
            first.get_by_role("button", name="Silence the bell").click()
        shop.station.post(replace(QUIET, seq=3, curing=CURING))
        expect(first.get_by_role("button", name="Silence the bell")).to_be_hidden()
        assert shop.station.asked.commands == [Acknowledge(11, ClockKind.DEMOLD, BY)]
        second.get_by_role("link", name="Add a note").click()
        page.wait_for_url(f"{shop.url}/log/12#note")
    assert shop.complaints == []


@LOOKS
def test_a_cast_is_repeated_looked_at_and_let_wait(shop, size, scheme):
    shop.station.post(replace(FREE, seq=2))
    with shop.page(size, "/new", color_scheme=scheme, paired=True) as page:
        page.get_by_role("link", name="kayak seat pad").click()
        expect(page.get_by_label("Amount of mix")).to_have_value("228.0 g")
        expect(page.get_by_label("A", exact=True)).to_have_value("0418")
        page.get_by_label("Amount of mix").fill("much")
        page.get_by_role("button", name="Work it out").click()
        expect(page.get_by_label("Amount of mix")).to_have_attribute("aria-invalid", "true")
        expect(page.locator("#amount-slip")).to_contain_text("Enter one such as 220 g.")
        page.get_by_label("Amount of mix").fill("190")
        page.get_by_role("button", name="Work it out").click()
        expect(page.locator("#plan [data-finding=OK]").first).to_be_visible()
        page.get_by_role("button", name="Let it wait for the bench").click()
        page.wait_for_url(f"{shop.url}/new")
        (command,) = shop.station.asked.commands
        assert isinstance(command, QueueCast)
        assert (command.plan.total, command.typed) == (G("190"), "190")
    assert [line for line in shop.complaints if "409" not in line] == []


@LOOKS
def test_the_queue_is_put_in_order_on_its_page(shop, size, scheme):
    shop.station.post(replace(FREE, seq=2, queue=WAITING))
    shop.station.shelf.queue = QUEUE
    with shop.page(size, "/new", color_scheme=scheme, paired=True) as page:
        page.get_by_role("button", name="Earlier pad 2").click()
        page.wait_for_url(f"{shop.url}/new")
        page.get_by_role("button", name="Remove pad 3").click()
        page.wait_for_url(f"{shop.url}/new")
        page.get_by_role("button", name="Begin pad 1").click()
        page.wait_for_url(f"{shop.url}/")
        assert shop.station.asked.commands == [MoveQueued(2, 1, BY), DropQueued(3, BY), TakeQueued(1, BY)]
    assert shop.complaints == []


@pytest.mark.parametrize("script", [True, False], ids=["with a script", "without"])
def test_a_free_bench_begins_what_waits_first_by_one_big_button(shop, script):
    shop.station.post(replace(FREE, seq=2, queue=WAITING))
    with shop.page(PHONE, paired=True, java_script_enabled=script) as page:
        button = page.get_by_role("button", name="Begin pad 1")
        assert button.bounding_box()["height"] >= 80
        with page.expect_response("**/api/take"):
            button.click()
        expect(page.get_by_role("link", name="All that waits, or another cast")).to_be_visible()
    assert shop.station.asked.commands == [TakeQueued(1, BY)]


@pytest.mark.parametrize(
    "place", ["/", "/log", "/log?search=none&end=lost", "/log?since=x", "/log/3", "/curing", "/new", "/new?again=40"]
)
def test_nothing_is_wider_than_a_narrow_phone_and_targets_are_large(shop, place):
    shop.station.post(replace(FREE, seq=2, curing=CURING, queue=WAITING))
    shop.station.shelf.queue = QUEUE
    with shop.page(NARROW, place, paired=True) as page:
        page.evaluate("document.querySelectorAll('main details').forEach(one => { one.open = true; })")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        small = page.evaluate(
            """[...document.querySelectorAll('main a, main button, main input, main select, main summary')]
            .filter(e => e.checkVisibility() && e.type !== 'hidden')
            .map(e => [e.textContent.trim().slice(0, 30) || e.name, Math.round(e.getBoundingClientRect().height)])
            .filter(([, height]) => height < 44)"""
        )
        assert small == []
