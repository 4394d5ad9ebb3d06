"""What a page may look like besides its calm self: a cast at the bench, alarms, many casts that cure, forms refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from playwright.sync_api import Page, expect

from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Urgency
from station.core.lead import Lead
from station.core.mass import Mass
from station.core.snapshot import AlarmView, Banner, BannerKind, BenchView, Fill, QueuedView, ScaleState, Snapshot
from station.errors import Refused
from tests.browser.conftest import DEADLINE_MS, Shop
from tests.browser.led import PRACTISING, led
from tests.phone.shown import ALARM, BANNER, BENCH, CURING, FREE, LIVE, QUIET, dial, with_net
from tests.phone.test_new_pages import QUEUE

Act = Callable[[Page, Shop], None]
LIMIT = AlarmView(14, ClockKind.POT_LIFE, 3.0, Urgency.FIRST, "Cast 14: the pot life is over.")
FULL = Banner(BannerKind.RECORD, "The card is full. The bench goes on from memory.", "Look at the record")
CLOCKS = (
    dial(ClockKind.POT_LIFE, 1785.0, 1800.0),
    dial(ClockKind.POUR_BY, -4.0, 180.0, AlarmState.SOUNDING),
    dial(ClockKind.MIX, -40.0, 40.0),
)
MANY = (
    *CURING,
    *(replace(CURING[0], number=13 + at, mold=f"kayak seat pad, number {at}") for at in range(4)),
    replace(CURING[1], number=9, demolded=True, words="Out of the mold.", dials=(dial(ClockKind.FULL_CURE, 9e4, 1e5),)),
)


@dataclass(frozen=True)
class State:
    """A page with a name, the snapshot that it shows, and what a person does there first."""

    name: str
    snapshot: Snapshot
    place: str = "/"
    act: Act | None = None
    paired: bool = True

    def enter(self, page: Page, shop: Shop) -> None:
        """Show the page in this state."""
        latest = shop.station.board.latest()
        seq = (latest.seq if latest else 0) + 1
        shop.station.post(replace(self.snapshot, seq=seq, at=shop.station.clock.now()))
        shop.station.asked.refuses = None
        shop.station.shelf.queue = QUEUE if self.snapshot.queue else ()
        page.goto(f"{shop.url}{self.place}")
        expect(page.locator("h1:visible")).to_have_count(1)
        if self.act is not None:
            self.act(page, shop)


def _at_bench(**changes: object) -> Snapshot:
    return replace(QUIET, bench=replace(BENCH, **changes))  # type: ignore[arg-type]


def _told_no(page: Page, shop: Shop) -> None:
    shop.station.asked.refuses = Refused("Nothing waits for a press.", "Begin a cast.")
    page.get_by_role("button", name="It was poured").click()
    expect(page.locator("#answer")).to_be_visible()


def _worked_out(amount: str) -> Act:
    def act(page: Page, shop: Shop) -> None:
        page.get_by_label("Amount of mix").fill(amount)
        page.get_by_role("button", name="Work it out").click()
        expect(page.locator(".plan, .slip").first).to_be_visible()

    return act


def _wrong_code(page: Page, shop: Shop) -> None:
    page.get_by_role("button", name="Show a code at the bench").click()
    page.get_by_label("Code").fill("000")
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.locator("#said")).to_be_visible()


def _deaf(page: Page, shop: Shop) -> None:
    page.get_by_role("button", name="Sound on this phone").click()
    page.get_by_role("button", name="No, I did not").click()
    page.get_by_text("What a locked phone does not do").click()


def _unfolded(page: Page, shop: Shop) -> None:
    for fold in page.locator("main details:not([open]) > summary").all()[::-1]:
        fold.click()


def _standing_still(page: Page, shop: Shop) -> None:
    shop.station.clock.advance(3600)
    expect(page.locator("#age")).to_be_visible(timeout=DEADLINE_MS)


ASSEMBLY: BenchView = replace(
    BENCH,
    title="Close the mold",
    words="Set the lid on and clamp it.",
    column=None,
    items=("lid", "four clamps", "release agent on the lid"),
    press_means="it is closed",
)
STALE = replace(LIVE, state=ScaleState.STALE, age_s=2.4, words="The scale has just gone silent.")
LOST = replace(LIVE, state=ScaleState.LOST, gross=None, age_s=None, words="The cable is out.")
WAITING = (QueuedView(1, "foam", "pad 1", Mass.grams("100.0")), QueuedView(2, "foam", "pad 2", Mass.grams("200.0")))
ALARMS = replace(QUIET, alarms=(ALARM, LIMIT), banners=(BANNER, FULL))
STATES = (
    State("bench free", FREE),
    State("bench free, looking only", FREE, paired=False),
    State("bench free, a plan waits", replace(FREE, queue=WAITING)),
    State("weighing", _at_bench()),
    State("weighing, nearly there", with_net("103.9", Fill.NEAR)),
    State("weighing, in the band", with_net("108.2", Fill.IN_BAND)),
    State("weighing, too much", with_net("111.6", Fill.OVER)),
    State("weighing, led to a thin stream", led(1, 0.95, Lead.TRICKLE)),
    State("weighing, led to its stop", led(1, None, Lead.STOP)),
    State("a practice with water", PRACTISING, "/practice"),
    State("weighing, looking only", _at_bench(), paired=False),
    State("weighing, the number is old", replace(QUIET, scale=STALE)),
    State("weighing, no scale", replace(with_net(None, Fill.UNDER), scale=LOST)),
    State("weighing, paused", _at_bench(paused=True, press_means="go on")),
    State("weighing, alarms and banners", ALARMS),
    State("mixing", _at_bench(title="Mix", words="Scrape the sides.", column=None, dials=CLOCKS, press_means="I pour")),
    State("closing the mold", replace(QUIET, bench=ASSEMBLY)),
    State("a press refused", _at_bench(), act=_told_no),
    State("sound not heard", _at_bench(), act=_deaf),
    State("several cure", replace(QUIET, curing=MANY), "/curing"),
    State("several cure, alarms", replace(ALARMS, curing=MANY), "/curing"),
    State("nothing cures", FREE, "/curing"),
    State("plans wait", replace(FREE, queue=WAITING), "/new"),
    State("a plan worked out", FREE, "/new", _worked_out("")),
    State("a plan refused", FREE, "/new", _worked_out("much")),
    State("log", QUIET, "/log"),
    State("log, nothing fits", QUIET, "/log?search=zebra"),
    State("log, a date refused", QUIET, "/log?since=yesterday"),
    State("sheet of a cast", QUIET, "/log/3"),
    State("insight", QUIET, "/insight?figure=density&mold=pad&material=foam&low=0.39&high=0.43", _unfolded),
    State("insight, a number refused", QUIET, "/insight?low=abc"),
    State("giving up", QUIET, "/give-up/14"),
    State("pairing, a wrong code", QUIET, "/pair", _wrong_code, paired=False),
    State("old news", _at_bench(), act=_standing_still),
)


def shown(page: Page, lone: Page, shop: Shop) -> Iterator[tuple[State, Page]]:
    """Each state, on the page that is paired or on the one that is not."""
    for state in STATES:
        on = page if state.paired else lone
        state.enter(on, shop)
        yield state, on
