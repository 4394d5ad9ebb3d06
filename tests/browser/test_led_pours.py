"""Who switches it on hears a led pour from the phone: ticks and stop as at the bench, silent when the news are old."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect

from station.core.cues import Cue
from station.core.lead import Lead
from station.core.snapshot import CueView
from station.signals.patterns import CUES, STOP_HZ, pitch_hz, ticks
from tests.browser.conftest import Shop
from tests.browser.heard import crossings, rhythm
from tests.browser.led import PRACTICE, PRACTISING, WATER, led
from tests.browser.test_bell import LIMIT, cut_off, holds, noted, turn_on
from tests.phone.shown import FREE, QUIET, G

pytestmark = pytest.mark.browser

NOW_SOUNDING = """
window.ends = [];
const begin = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (...when) {
  this.addEventListener('ended', () => ends.push(this.loop));
  window.newest = this;
  return begin.apply(this, when);
};
"""


@contextmanager
def listening(shop: Shop, place: str = "/", *, switched: bool = True) -> Iterator[Page]:
    with noted(shop, place, before=NOW_SOUNDING) as page:
        turn_on(page)
        switch = page.get_by_role("switch", name="Ticks and stop of a pour")
        expect(switch).not_to_be_checked()
        if switched:
            switch.click()
            expect(switch).to_be_checked()
        yield page


def begun(page: Page) -> int:
    return int(page.evaluate("noted.rounds.length"))


@pytest.mark.parametrize("pace", [0.1, 0.6, 1.0])
def test_the_pace_ticks_in_the_rhythm_and_the_steps_of_pitch_of_the_bench(shop: Shop, pace: float) -> None:
    with listening(shop) as page:
        before = begun(page)
        shop.station.post(led(2, pace))
        holds(page, f"noted.rounds.length === {before} + 1")
        assert page.evaluate("newest.loop"), "no timer of the page plays it"
        ((on, off),) = ticks(pace)
        assert page.evaluate("newest.buffer.duration") == pytest.approx(on + off, abs=0.001)
        assert rhythm(page)[0][0] == pytest.approx(on, abs=0.011)
        # An octave above the bench: small loudspeakers.
        assert crossings(page)[0] == pytest.approx(2 * pitch_hz(pace), rel=0.06)


def test_the_same_pace_goes_on_and_old_news_fall_silent_by_themselves(shop: Shop) -> None:
    with listening(shop) as page:
        before = begun(page)
        for seq in range(2, 6):
            shop.station.post(led(seq, 0.6))
        holds(page, f"noted.rounds.length === {before} + 1")
        cut_off(page)
        holds(page, "ends.at(-1) === true")
        assert begun(page) == before + 1
        page.context.set_offline(False)


def test_the_stop_sounds_once_and_unlike_any_tick(shop: Shop) -> None:
    with listening(shop) as page:
        shop.station.post(led(2, 1.0))
        holds(page, "newest.loop")
        cue = QUIET.last_cue
        assert cue is not None
        before = begun(page)
        stop = CueView(Cue.STOP, "Stop.", cue.count + 1)
        for seq in range(3, 7):
            shop.station.post(led(seq, None, Lead.STOP, stop))
        holds(page, f"noted.rounds.length === {before} + 1 && !newest.loop")
        holds(page, "ends.includes(false)")
        assert begun(page) == before + 1
        assert rhythm(page)[0][0] == pytest.approx(CUES[Cue.STOP][0][0], abs=0.011)
        (stopped,) = crossings(page)
        assert stopped == pytest.approx(2 * STOP_HZ, rel=0.01)
        assert all(2 * pitch_hz(pace / 10) > 1.3 * stopped for pace in range(11))


def test_nothing_ticks_for_those_who_have_not_asked_nor_over_an_alarm(shop: Shop) -> None:
    with listening(shop, switched=False) as page:
        before = begun(page)
        shop.station.post(led(2, 0.6))
        expect(page.locator(".lead b")).to_have_text("slower")
        assert begun(page) == before
        page.get_by_role("switch", name="Ticks and stop of a pour").click()
        shop.station.post(led(3, 0.6, alarms=(LIMIT,)))
        holds(page, "noted.playing === 1")
        assert begun(page) == before + 1
        assert rhythm(page)[:2] == [[0.15, 0.1], [0.15, 0.1]]


def test_a_practice_is_live_and_ticks_without_a_reload(shop: Shop) -> None:
    shop.station.post(replace(PRACTISING, seq=2))
    with listening(shop, "/practice") as page:
        expect(page.get_by_role("heading", name="Pour 2 of 5: 50.0 g of water")).to_be_visible()
        expect(page.locator(".left > b > span")).to_have_text("18.5")
        expect(page.get_by_role("cell", name="+0.4 g")).to_be_visible()
        shop.station.post(replace(PRACTISING, seq=3, practice_column=replace(WATER, net=G("44.0"), pace=0.8)))
        expect(page.locator(".left > b > span")).to_have_text("6.0")
        holds(page, "newest.loop")
        done = replace(PRACTICE, done=(G("50.4"), G("51.6")), level=None)
        shop.station.post(replace(PRACTISING, seq=4, practice=done, practice_column=None))
        expect(page.get_by_role("cell", name="too much")).to_be_visible()
        expect(page.get_by_text("Put an empty cup on the scale.")).to_be_visible()
        expect(page.locator(".weigh")).to_be_hidden()
        shop.station.post(replace(FREE, seq=5))
        expect(page.locator(".led")).to_be_hidden()
