"""The page in a real browser: it follows the bench, says when it is old, touches the bench, and stays at home."""

import threading
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from station.core.clocks import AlarmState, ClockKind
from station.core.messages import Abort, Acknowledge, Press, Pressed
from station.core.snapshot import Fill, ScaleState
from station.errors import Refused
from tests.browser.conftest import DEADLINE_MS, DESK, PHONE
from tests.phone.shown import ALARM, BANNER, BENCH, CURING, FREE, LIVE, QUIET, dial, with_net

pytestmark = pytest.mark.browser

SIZES = pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
BY = "page (a phone)"


def until(true):
    """Wait for `true()` with one overall deadline."""
    tick = threading.Event()
    for _ in range(DEADLINE_MS // 20):
        if true():
            return True
        tick.wait(0.02)
    return False


@SIZES
def test_the_page_follows_the_pour_from_too_little_to_too_much(shop, size):
    with shop.page(size) as page:
        heights = []
        for seq, (net, fill, do, left) in enumerate(
            [
                ("64.2", Fill.UNDER, "Keep pouring", "43.8"),
                ("103.9", Fill.NEAR, "Slowly", "4.1"),
                ("108.2", Fill.IN_BAND, "Stop pouring", "+0.2"),
                ("111.6", Fill.OVER, "Too much", "3.6"),
            ],
            start=2,
        ):
            shop.station.post(with_net(net, fill, seq))
            expect(page.locator(".now h1")).to_have_text(do)
            expect(page.locator(".left > b > span")).to_have_text(left)
            expect(page.locator(".net b")).to_have_text(f"{net} g")
            heights.append(float(page.locator(".column .fill").get_attribute("height").rstrip("%")))
        assert heights == sorted(heights)
        assert 0 < heights[0] < heights[-1] == 100
    assert shop.complaints == []


def test_the_parts_of_the_page_come_and_go_with_the_bench(shop):
    with shop.page(DESK) as page:
        expect(page.locator(".strip li")).to_have_count(3)
        shop.station.post(replace(FREE, seq=2))
        expect(page.get_by_role("heading", name="The bench is free")).to_be_visible()
        expect(page.locator(".now")).to_be_hidden()
        clocks = (dial(ClockKind.POT_LIFE, 30.0, 240.0), dial(ClockKind.MIX, 22.0, 40.0))
        mixing = replace(BENCH, title="Mix", words="Scrape the sides.", column=None, dials=clocks)
        shop.station.post(replace(QUIET, seq=3, bench=mixing, banners=(BANNER,)))
        expect(page.locator(".now h1")).to_have_text("Mix")
        expect(page.locator(".sheet .dial b")).to_have_text(["0:30", "0:22"])
        expect(page.locator(".column")).to_be_hidden()
        expect(page.locator(".banner:visible")).to_have_text(BANNER.words)
    assert shop.complaints == []


def test_a_stale_weight_is_struck_out_and_a_lost_one_is_blank(shop):
    with shop.page(PHONE) as page:
        stale = replace(LIVE, state=ScaleState.STALE, age_s=2.4, words="The scale has just gone silent.")
        shop.station.post(replace(QUIET, seq=2, scale=stale))
        expect(page.locator(".now h1")).to_have_text("No weight")
        expect(page.locator(".chip")).to_contain_text("2 s old")
        assert "line-through" in page.locator(".left > b").evaluate("e => getComputedStyle(e).textDecorationLine")
        lost = replace(LIVE, state=ScaleState.LOST, gross=None, age_s=None, words="The cable is out.")
        shop.station.post(replace(with_net(None, Fill.UNDER, 3), scale=lost))
        expect(page.locator(".chip")).to_contain_text("no scale")
        expect(page.locator(".chip b")).to_have_text("")
        expect(page.locator(".left > b > span")).to_have_text("")


def test_a_hidden_page_holds_no_stream_and_one_that_is_looked_at_again_is_true(shop):
    hide = "h => { Object.defineProperty(document, 'hidden', {value: h, configurable: true}); \
            document.dispatchEvent(new Event('visibilitychange')); }"
    with shop.page(PHONE) as page:
        expect(page.locator(".left > b > span")).to_have_text("43.8")
        assert until(lambda: shop.station.streams.open == 1)
        page.evaluate(hide, True)
        assert until(lambda: shop.station.streams.open == 0)
        shop.station.post(with_net("108.2", Fill.IN_BAND, 2))
        page.evaluate(hide, False)
        expect(page.locator(".now h1")).to_have_text("Stop pouring")
        assert until(lambda: shop.station.streams.open == 1)


@pytest.mark.parametrize("place", ["/", "/curing", "/log", "/new"])
def test_an_alarm_is_acknowledged_from_any_page(shop, place):
    shop.station.post(replace(QUIET, seq=2, alarms=(ALARM,)))
    with shop.page(PHONE, place, paired=True) as page:
        expect(page.locator(".alarm").filter(has_text=ALARM.words)).to_be_visible()
        page.get_by_role("button", name="Heard it").click()
        assert until(lambda: shop.station.asked.commands == [Acknowledge(11, ClockKind.DEMOLD, BY)])
        shop.station.post(replace(QUIET, seq=3))
        expect(page.get_by_role("button", name="Heard it")).to_have_count(0)
        assert page.url == f"{shop.url}{place}"


def test_an_alarm_that_comes_later_can_be_acknowledged_too(shop):
    with shop.page(PHONE, paired=True) as page:
        expect(page.locator(".left > b > span")).to_have_text("43.8")
        shop.station.post(replace(QUIET, seq=2, alarms=(ALARM,)))
        page.get_by_role("button", name="Heard it").click()
        assert until(lambda: shop.station.asked.commands == [Acknowledge(11, ClockKind.DEMOLD, BY)])


def test_presses_reach_the_bench_and_a_refusal_is_shown_in_words(shop):
    with shop.page(PHONE, paired=True) as page:
        page.get_by_role("button", name="It was poured").click()
        assert until(lambda: shop.station.asked.commands == [Pressed(Press.SHORT, BY)])
        page.get_by_role("button", name="Pause").click()
        assert until(lambda: shop.station.asked.commands[1:] == [Pressed(Press.LONG, BY)])
        shop.station.asked.refuses = Refused("Nothing waits for a press.", "Begin a cast.")
        page.get_by_role("button", name="It was poured").click()
        expect(page.locator("#answer")).to_have_text("Nothing waits for a press. Begin a cast.")


def test_a_cast_is_given_up_with_a_reason(shop):
    with shop.page(PHONE, paired=True) as page:
        page.get_by_role("link", name="Give up").click()
        page.get_by_label("Why?").fill("the cup fell over")
        page.get_by_role("button", name="Give up cast 14").click()
        page.wait_for_url(f"{shop.url}/")
        assert shop.station.asked.commands == [Abort(14, "the cup fell over", BY)]


def test_only_the_lots_of_the_chosen_material_are_asked_for(shop):
    with shop.page(DESK, "/new", paired=True) as page:
        expect(page.locator("fieldset[data-for=foam]")).to_be_visible()
        page.get_by_label("A", exact=True).fill("0417")
        page.get_by_role("button", name="Work it out").click()
        page.get_by_role("button", name="Begin at the bench").click()
        page.wait_for_url(f"{shop.url}/")
        assert shop.station.shelf.lots[-1] == {"A": "0417"}


@pytest.mark.parametrize("alarms", [(), (ALARM,)], ids=["calm", "alarm"])
@SIZES
def test_all_that_matters_for_pouring_stands_on_the_first_screen(shop, size, alarms):
    shop.station.post(replace(QUIET, seq=2, alarms=alarms, bench=replace(BENCH, press_means="it was poured")))
    with shop.page(size, paired=True) as page:
        expect(page.locator(".left > b > span")).to_have_text("43.8")
        floor = page.locator(".presses").bounding_box()["y"]
        for part in (".now h1", ".words", ".left > b", ".net b", ".column", ".sheet .dial", ".ticks .low"):
            box = page.locator(part).bounding_box()
            assert box["x"] >= 0, part
            assert box["x"] + box["width"] <= size["width"], part
            assert box["y"] >= 0, part
            assert box["y"] + box["height"] <= floor + 1, part
        for button in page.locator(".presses button:visible, .presses a:visible, .alarm button").all():
            box = button.bounding_box()
            assert box["height"] >= 64
            assert box["y"] + box["height"] <= size["height"]
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]


@SIZES
def test_three_clocks_and_an_alarm_stand_on_the_first_screen(shop, size):
    clocks = (
        dial(ClockKind.POT_LIFE, 1785.0, 1800.0),
        dial(ClockKind.POUR_BY, -4.0, 180.0, AlarmState.SOUNDING),
        dial(ClockKind.MIX, -40.0, 40.0),
    )
    mixing = replace(BENCH, title="Mix", words="Scrape the sides.", column=None, dials=clocks, press_means="I pour now")
    shop.station.post(replace(QUIET, seq=2, bench=mixing, alarms=(ALARM,)))
    with shop.page(size, paired=True) as page:
        floor = page.locator(".presses").bounding_box()["y"]
        for number in page.locator(".sheet .dial b").all():
            box = number.bounding_box()
            assert box["y"] + box["height"] <= floor
            assert box["x"] + box["width"] <= size["width"]


def test_the_page_without_a_script_shows_the_bench_and_reloads_by_itself(shop):
    with shop.page(PHONE, java_script_enabled=False) as page:
        expect(page.locator(".left > b > span")).to_have_text("43.8")
        shop.station.post(with_net("103.9", Fill.NEAR, 2))
        expect(page.locator(".left > b > span")).to_have_text("4.1")
        expect(page.locator(".now h1")).to_have_text("Slowly")


def test_buttons_work_without_a_script(shop):
    with shop.page(PHONE, paired=True, java_script_enabled=False) as page:
        page.get_by_role("button", name="It was poured").click()
        page.wait_for_url(f"{shop.url}/")
        assert shop.station.asked.commands == [Pressed(Press.SHORT, BY)]


def test_curing_casts_stand_in_the_order_in_which_they_need_somebody(shop):
    shop.station.post(replace(QUIET, seq=2, curing=CURING))
    with shop.page(DESK, "/curing") as page:
        expect(page.locator(".cast .num")).to_have_text(["11", "12"])
        expect(page.locator(".cast .dial b")).to_have_text(["2:05", "25:20"])


def test_nothing_is_asked_of_anybody_else(shop):
    elsewhere = "http://127.0.0.2:9/"
    shop.station.post(replace(QUIET, seq=2, alarms=(ALARM,), banners=(BANNER,)))
    with shop.page(DESK, paired=True) as page:
        for place in ("/", "/curing", "/log", "/log/3", "/new", "/pair", "/give-up/14"):
            shop.requests.clear()
            with page.expect_request(f"{shop.url}/api/stream"):
                page.goto(f"{shop.url}{place}")
            assert [url for url in shop.requests if not url.startswith(shop.url)] == []
            # And the policy of the page stops what a mistake would let out.
            with page.expect_console_message(lambda line: "Content Security Policy" in line.text):
                assert page.evaluate(f"fetch('{elsewhere}').then(() => false, () => true)")
