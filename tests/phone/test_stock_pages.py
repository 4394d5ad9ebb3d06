"""The page of the stock: lots with what is left and wrong, and a container that is weighed."""

from dataclasses import replace

import pytest

from station.core.mass import Mass
from station.core.messages import CountLot
from station.core.snapshot import ScaleState, ScaleView
from station.errors import Refused
from tests.phone.shown import FREE, opened_station
from tests.phone.small_stock import SmallStock

G = Mass.grams


@pytest.fixture
def shop():
    with opened_station(stock=SmallStock()) as station:
        yield station


def test_anybody_may_look(shop):
    page = shop.client().get("/stock").text
    assert "572.4 g" in page
    assert "Nobody has weighed it" in page
    assert "&lt;how much&gt;" in page
    assert page.count("use next") == 1
    assert "Pair this device" in page
    assert 'href="/stock"' in shop.client().get("/work").text


def test_a_container_is_counted_with_the_empty_mass_of_its_sheet(shop):
    answer = shop.paired().send("/stock/count", lot="FA-1", gross="700,5", empty="")
    assert answer.status_code == 303
    (command,) = shop.asked.commands
    assert (command.lot, command.gross, command.empty) == ("FA-1", G("700.5"), G(240))
    assert isinstance(command, CountLot)


def test_a_typed_empty_mass_counts_before_the_sheet(shop):
    shop.paired().send("/stock/count", lot="FA-1", gross="700 g", empty="0.2 kg")
    assert shop.asked.commands[0].empty == G(200)


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"lot": "", "gross": "700", "empty": ""}, "which lot"),
        ({"lot": "FA-1", "gross": "much", "empty": ""}, "much"),
        ({"lot": "FA-1", "gross": "", "empty": ""}, "what the container weighs"),
        ({"lot": "FA-1", "gross": "1 fl oz", "empty": ""}, "fl oz"),
    ],
)
def test_nonsense_is_told_and_what_was_typed_stays(shop, form, says):
    answer = shop.paired().send("/stock/count", **form)
    assert answer.status_code == 409
    assert says in answer.text
    assert shop.asked.commands == []


def test_the_bench_s_own_refusal_is_shown(shop):
    shop.asked.refuses = Refused("A container that weighs 240.0 g empty cannot weigh 100.0 g now.")
    assert "cannot weigh" in shop.paired().send("/stock/count", lot="FA-1", gross="100", empty="").text


def test_the_mass_is_taken_from_the_pan_and_nothing_is_counted_yet(shop):
    still = ScaleView(ScaleState.LIVE, G("812.4"), 0.1, True, "", G("0.1"), 900)
    shop.post(replace(FREE, seq=2, scale=still))
    answer = shop.paired().send("/stock/count", lot="FA-1", gross="", empty="", pan="gross")
    assert 'value="812.4 g"' in answer.text
    assert shop.asked.commands == []


def test_an_unpaired_device_counts_nothing(shop):
    answer = shop.client().post("/stock/count", data={"lot": "FA-1", "gross": "700"})
    assert answer.status_code == 403
    assert shop.asked.commands == []
