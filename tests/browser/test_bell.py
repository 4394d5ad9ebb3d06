"""The bell of the page: honest about whether it is heard, the rhythm of the bench, and silent once it is answered."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import chain

import pytest
from playwright.sync_api import Page, expect

from station.core.clocks import ClockKind
from station.core.cues import Urgency
from station.core.snapshot import AlarmView
from station.signals.patterns import ALARMS
from tests.browser.conftest import DESK, PHONE, Shop
from tests.browser.heard import NOTES, crossings, rhythm
from tests.browser.test_page import until
from tests.phone.shown import ALARM, QUIET

pytestmark = pytest.mark.browser

LIMIT = AlarmView(14, ClockKind.POT_LIFE, 3.0, Urgency.FIRST, "Cast 14: the pot life is over.")
READY = replace(ALARM, urgency=Urgency.FIRST)
SINCE = "document.querySelector('.alarm .since')?.textContent === 'for 0:0{}'"
STRONG = replace(LIMIT, urgency=Urgency.STRONG, since_s=75.0)


@contextmanager
def noted(shop: Shop, place: str = "/", *, paired: bool = False, before: str = "") -> Iterator[Page]:
    with shop.page(PHONE, "/pair", paired=paired) as page:
        page.add_init_script(NOTES + before)
        page.goto(f"{shop.url}{place}")
        yield page
    # A request without a network is an error to the browser; here it is what the test wants.
    assert [said for said in shop.complaints if "INTERNET_DISCONNECTED" not in said] == []


def cut_off(page: Page) -> None:
    """No network any more; what was open is let go, since the browser would leave it open."""
    page.context.set_offline(True)
    page.evaluate("window.dispatchEvent(new Event('online'))")


def turn_on(page: Page) -> None:
    page.get_by_role("button", name="Sound on this phone").click()
    page.get_by_role("button", name="Yes, I heard them").click()
    expect(page.locator("#bell")).to_contain_text("Sound on this phone is on")


def holds(page: Page, said: str) -> None:
    # The page's own policy forbids what the browser's driver would do to wait.
    assert until(lambda: page.evaluate(said)), said


def playing(page: Page, count: int) -> None:
    holds(page, f"noted.playing === {count}")


def test_sound_counts_as_on_only_when_somebody_has_heard_it(shop: Shop) -> None:
    shop.station.post(replace(QUIET, seq=2, alarms=(LIMIT,)))
    with noted(shop) as page:
        expect(page.locator("#bell")).to_contain_text("Sound on this phone is off")
        page.get_by_role("button", name="Sound on this phone").click()
        expect(page.locator("#bell")).to_contain_text("Did you hear them?")
        holds(page, "noted.rounds.length === 1")
        assert rhythm(page)[:2] == [[0.15, 0.1], [0.15, 0.1]]
        # An alarm sounds, but nobody has said yet that this phone can be heard.
        playing(page, 0)
        page.get_by_role("button", name="No, I did not").click()
        expect(page.locator("#bell")).to_contain_text("Sound on this phone is off, since you did not hear it")
        expect(page.locator("#bell li:visible")).to_have_count(4)
        assert (
            page.locator("#bell")
            .get_by_role("button", name="Sound on this phone")
            .evaluate("button => button === document.activeElement")
        )
        playing(page, 0)
        turn_on(page)
        playing(page, 1)
        page.get_by_role("button", name="Turn the sound off").click()
        expect(page.locator("#bell")).to_contain_text("Sound on this phone is off")
        playing(page, 0)


def test_the_next_page_says_that_the_sound_has_lapsed(shop: Shop) -> None:
    with noted(shop) as page:
        expect(page.locator("#lapsed")).to_be_hidden()
        turn_on(page)
        page.goto(f"{shop.url}/curing")
        expect(page.locator("#bell")).to_contain_text("Sound on this phone is off")
        expect(page.locator("#lapsed")).to_be_visible()
        turn_on(page)
        expect(page.locator("#lapsed")).to_be_hidden()


def test_each_alarm_has_its_own_sound_in_the_rhythm_of_the_bench(shop: Shop) -> None:
    def bench(urgency: Urgency) -> list[list[float]]:
        return [[round(on, 2), round(off, 2)] for on, off in ALARMS[urgency]]

    pitches = []
    with noted(shop) as page:
        turn_on(page)
        for seq, alarms in enumerate([(LIMIT,), (READY,), (STRONG,), (READY, STRONG)], start=2):
            before = page.evaluate("noted.rounds.length")
            shop.station.post(replace(QUIET, seq=seq, alarms=alarms))
            holds(page, f"noted.rounds.length === {before} + 1")
            strong = any(alarm.urgency is Urgency.STRONG for alarm in alarms)
            heard, beaten = rhythm(page), bench(Urgency.STRONG if strong else Urgency.FIRST)
            assert len(heard) == len(beaten)
            assert list(chain(*heard)) == pytest.approx(list(chain(*beaten)), abs=0.011)
            pitches.append(tuple(crossings(page)[:3]))
            playing(page, 1)
            shakes = page.evaluate("noted.shakes.at(-1)")
            assert shakes[:4] == [150, 100, 150, 100]
    limit, ready, strong_limit, strong_ready = pitches
    assert limit == strong_limit
    assert ready == strong_ready
    assert max(limit) - min(limit) < 20, "a limit that is over stays on one pitch"
    assert ready[0] < ready[1] < ready[2] < limit[0], "a part that is ready rises"


@pytest.mark.parametrize("place", ["/", "/log"])
def test_an_alarm_sounds_without_end_and_falls_silent_when_anybody_answers_it(shop: Shop, place: str) -> None:
    with noted(shop, place) as page:
        turn_on(page)
        shop.station.post(replace(QUIET, seq=2, alarms=(LIMIT, READY)))
        playing(page, 1)
        assert page.evaluate("noted.rounds.at(-1).loop")
        begun = page.evaluate("noted.rounds.length")
        for seq in range(3, 8):
            shop.station.post(replace(QUIET, seq=seq, alarms=(replace(LIMIT, since_s=float(seq)), READY)))
        holds(page, SINCE.format(7))
        assert page.evaluate("noted.rounds.length") == begun, "the same alarm goes on, it does not begin again"
        expect(page).to_have_title(re.compile(rf"^\(2\) {re.escape(LIMIT.words)} · (Bench|Log) · "))
        assert "icon-alarm" in str(page.locator("#icon").get_attribute("href"))
        # The pot life was answered elsewhere; the other one sounds on, in its own way.
        shop.station.post(replace(QUIET, seq=8, alarms=(READY,)))
        holds(page, f"noted.rounds.length === {begun} + 1")
        playing(page, 1)
        shop.station.post(replace(QUIET, seq=9))
        playing(page, 0)
        assert page.evaluate("noted.shakes.at(-1)") == 0
        expect(page).to_have_title(re.compile("^(Bench|Log) · "))
        assert "icon-alarm" not in str(page.locator("#icon").get_attribute("href"))


def test_a_page_behind_another_one_hears_the_station_only_if_it_is_to_sound(shop: Shop) -> None:
    hide = "Object.defineProperty(document, 'hidden', {value: true, configurable: true}); \
            document.dispatchEvent(new Event('visibilitychange'))"
    with noted(shop) as page:
        turn_on(page)
        page.evaluate(hide)
        shop.station.post(replace(QUIET, seq=2, alarms=(LIMIT,)))
        playing(page, 1)
        assert until(lambda: shop.station.streams.open == 1)


def test_a_phone_that_has_lost_the_station_says_so_and_an_alarm_sounds_on_meanwhile(shop: Shop) -> None:
    # The page's own running time is moved on, so that nobody waits.
    later = "window.runs = 0; const now = performance.now; performance.now = () => now.call(performance) + runs;"
    with noted(shop, before=later) as page:
        turn_on(page)
        cut_off(page)
        page.evaluate("runs = 20000")
        playing(page, 1)
        assert [on for on, _ in rhythm(page)] == [0.45, 0.45]
        high, low = crossings(page)
        assert high > low
        page.context.set_offline(False)
        shop.station.post(replace(QUIET, seq=2, alarms=(LIMIT,)))
        # The page is fresh again a moment before the alarm takes the place of the sound of a lost station.
        assert until(lambda: rhythm(page)[:2] == [[0.15, 0.1], [0.15, 0.1]])
        expect(page.locator("body.old")).to_have_count(0)
        begun = page.evaluate("noted.rounds.length")
        cut_off(page)
        page.evaluate("runs = 60000")
        expect(page.locator("body.old")).to_have_count(1)
        playing(page, 1)
        assert page.evaluate("noted.rounds.length") == begun
        page.context.set_offline(False)
        expect(page.locator("body.old")).to_have_count(0)


def test_a_sound_that_the_phone_cuts_off_no_longer_counts_as_on(shop: Shop) -> None:
    keep = """window.kept = null;
        const Made = AudioContext;
        window.AudioContext = class extends Made { constructor() { super(); kept = this; } };"""
    with noted(shop, before=keep) as page:
        turn_on(page)
        page.evaluate("kept.suspend()")
        expect(page.locator("#bell")).to_contain_text("the phone has cut it off")


def test_those_who_listen_are_told_each_alarm_step_and_cue_once(shop: Shop) -> None:
    with noted(shop) as page:
        expect(page.locator(".left > b > span")).to_have_text("43.8")
        page.evaluate(
            """() => { window.told = [];
            const watch = new MutationObserver((all) => all.forEach(({target}) => {
              const region = target.closest('[aria-live], [role=status], [role=alert]');
              if (region && !region.hidden && region.textContent) told.push(region.textContent.trim());
            }));
            watch.observe(document.body, {subtree: true, childList: true, characterData: true}); }"""
        )
        cue = QUIET.last_cue
        bench = QUIET.bench
        assert cue is not None
        assert bench is not None
        for seq in range(2, 10):
            shop.station.post(replace(QUIET, seq=seq, alarms=(replace(LIMIT, since_s=float(seq)),)))
            holds(page, SINCE.format(seq))
        next_step = replace(bench, title="Mix", words="Scrape the sides.", column=None)
        for seq in range(10, 14):
            shop.station.post(
                replace(QUIET, seq=seq, bench=next_step, last_cue=replace(cue, count=8, words="Accepted."), alarms=())
            )
            expect(page.locator(".now h1")).to_have_text("Mix")
        holds(page, "told.length === 3")
        assert page.evaluate("told") == [LIMIT.words, "Mix. Scrape the sides.", "Accepted."]


def test_the_screen_is_kept_on_by_a_switch_where_the_browser_allows_it(shop: Shop) -> None:
    lock = """Navigator.prototype.__defineGetter__('wakeLock', () => ({
        request: async () => { noted.held += 1; return { release() { noted.held -= 1; } }; } }));"""
    with noted(shop, before=lock) as page:
        switch = page.get_by_role("switch", name="Keep the screen on")
        expect(switch).not_to_be_checked()
        switch.click()
        holds(page, "noted.held === 1")
        expect(switch).to_be_checked()
        switch.click()
        holds(page, "noted.held === 0")
        expect(switch).not_to_be_checked()


def test_a_phone_that_refuses_to_keep_its_screen_on_is_believed(shop: Shop) -> None:
    refusing = """Navigator.prototype.__defineGetter__('wakeLock', () => ({
        request: () => Promise.reject(new DOMException('no', 'NotAllowedError')) }));"""
    with noted(shop, before=refusing) as page:
        page.get_by_role("switch", name="Keep the screen on").click()
        expect(page.get_by_text("The phone did not keep the screen on")).to_be_visible()
        expect(page.get_by_role("switch")).not_to_be_checked()


def test_a_page_that_came_over_plain_http_says_why_it_cannot_keep_the_screen_on(shop: Shop) -> None:
    plain = """delete Navigator.prototype.wakeLock;
        Object.defineProperty(window, 'isSecureContext', {value: false});"""
    with noted(shop, before=plain) as page:
        expect(page.get_by_text("this one came over plain http")).to_be_visible()
        expect(page.get_by_role("switch")).to_have_count(0)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_every_button_of_the_bell_is_large_enough_for_a_glove(shop: Shop, size: dict[str, int]) -> None:
    with shop.page(size) as page:
        page.get_by_role("button", name="Sound on this phone").click()
        for button in page.locator("#bell button:visible, #bell summary").all():
            box = button.bounding_box()
            assert box is not None
            assert box["height"] >= 44
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
