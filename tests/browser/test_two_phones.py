"""Two phones answer the same alarm in the same moment: one wins, the other is told, the record has it once."""

from __future__ import annotations

import threading

import pytest
from playwright.sync_api import Page, expect

from station.core import events as ev
from station.core.messages import Command
from station.core.views import snapshot
from tests.browser.conftest import DEADLINE_MS, PHONE, Shop
from tests.browser.test_page import until
from tests.core.test_answered import cured
from tests.play import CARD

pytestmark = pytest.mark.browser


def test_one_of_two_phones_wins_and_the_other_is_told_by_whom(shop: Shop) -> None:
    play = cured()
    both_here = threading.Barrier(2)
    turn = threading.Lock()
    seq = 1

    def post() -> None:
        nonlocal seq
        seq += 1
        shop.station.post(snapshot(play.bench, play.now, seq, CARD, ()))

    def bench(command: Command) -> int | None:
        both_here.wait(DEADLINE_MS / 1000)
        with turn:
            play.send(command)
            post()
        return None

    def told(page: Page) -> str:
        answer = page.locator("#answer")
        return answer.inner_text() if answer.is_visible() else ""

    post()
    with shop.page(PHONE, paired=True) as one, shop.page(PHONE, paired=True) as two:
        shop.station.asked.answers = bench
        for page in (one, two):
            page.get_by_role("button", name="Heard it").click(no_wait_after=True)
        for page in (one, two):
            expect(page.locator(".alarm")).to_have_count(0)
        assert until(lambda: told(one) + told(two))
        assert told(one) + told(two) == "The demold alarm of cast 1 was already acknowledged by page (a phone)."
    assert len(play.events(ev.AlarmAcknowledged)) == 1
