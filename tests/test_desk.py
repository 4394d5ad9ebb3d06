"""The desk: a search begun from the page, while the station lets go of its port and takes up what was found."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from station.clock import SystemClock
from station.config import ScaleSettings
from station.core.messages import Reading, ScaleLost
from station.desk import Desk, Tools
from station.errors import Refused, ScaleFault
from station.phone.scale_desk import Asks, ErrandView
from station.scale.checks import Checks
from station.scale.finding.profiles import FOUND, Profiles
from station.scale.link import ScaleLink
from station.simulated.voices import Delivery
from tests.scale.finding.test_find_port import AtTheScale, HurriedClock, talking
from tests.scale.hearing import DEADLINE_S, Hearing


class Bench:
    """A desk, its link and a talking scale."""

    def __init__(self, folder: Path, person: AtTheScale) -> None:
        self.hearing = Hearing()
        self.person = person
        self.busy = False
        self.profiles = Profiles(folder / "state")
        settings = ScaleSettings(FOUND, "")
        self.link = ScaleLink(settings, self.hearing.inbox, self.hearing.clock, retry_s=0.05, profiles=self.profiles)
        tools = Tools(
            settings,
            self.link,
            HurriedClock(),
            self.profiles,
            Checks(folder / "state"),
            lambda: self.busy,
            lambda: None,
        )
        self.desk = Desk(tools)

    def until(self, right: object) -> ErrandView:
        """The errand once it is as wanted; the pan is pressed when the page says so."""
        clock = SystemClock()
        end_s = clock.now().boot_s + DEADLINE_S * 2
        pressed = 0
        while clock.now().boot_s < end_s:
            view = self.desk.errand()
            assert view is not None
            asked = sum("finger" in words for words in view.told)
            if asked > pressed:
                pressed = asked
                self.person.pressing = 60
            if right(view):  # type: ignore[operator]
                return view
            self.person.stop.wait(0.02)
        raise AssertionError(view)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with talking(tmp_path, "status-commas", Delivery.STREAM) as person:
        made = Bench(tmp_path, person)
        with made.link:
            yield made
            made.desk.close()


def test_a_scale_found_from_the_page_is_read_from_then_on(bench: Bench) -> None:
    lost = bench.hearing.until_a(ScaleLost).message
    assert isinstance(lost, ScaleLost)
    assert "No scale was found yet" in lost.why
    port = str(bench.person.port.path)
    bench.desk.find(port)
    asked = bench.until(lambda view: view.asks is Asks.YES_NO)
    assert "123.4 g" in asked.question
    bench.hearing.until(lambda message: isinstance(message, ScaleLost) and "begun from the page" in message.why)
    with pytest.raises(Refused, match="Another errand runs"):
        bench.desk.find(port)
    bench.desk.answer("yes")
    ended = bench.until(lambda view: view.good is not None)
    assert ended.good
    assert "Found: status-commas" in ended.outcome
    assert bench.desk.in_use().startswith("status-commas on ")
    bench.hearing.until(lambda message: isinstance(message, Reading) and message.gross.mg == 123_400)


def test_a_search_given_up_ends_and_the_port_is_free_again(bench: Bench) -> None:
    bench.desk.find(str(bench.person.port.path))
    bench.desk.leave()
    ended = bench.until(lambda view: view.good is not None)
    assert (ended.good, ended.outcome) == (False, "Given up.")
    with pytest.raises(Refused, match="No question is open"):
        bench.desk.answer("yes")


def test_what_makes_no_sense_is_refused_in_a_sentence(bench: Bench) -> None:
    with pytest.raises(Refused, match="is no port"):
        bench.desk.find("quark://x")
    with pytest.raises(ScaleFault, match="No scale was found yet"):
        bench.desk.check()
    bench.busy = True
    with pytest.raises(Refused, match="A cast is in hand"):
        bench.desk.find("/dev/scale")
    assert bench.desk.errand() is None
    assert "No scale was found yet" in bench.desk.in_use()


def test_a_port_that_is_not_there_ends_the_errand_in_a_sentence(bench: Bench) -> None:
    bench.desk.find("/dev/nowhere")
    ended = bench.until(lambda view: view.good is not None)
    assert ended.good is False
    assert "There is no port /dev/nowhere" in ended.outcome
