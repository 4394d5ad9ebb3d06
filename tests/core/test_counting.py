"""A container that is weighed: what is left counts from there, and casts draw it down."""

import pytest

from station.core import events as ev
from station.core import messages as msg
from station.core.mass import Mass
from station.core.material import Lot
from station.errors import Refused
from tests.play import GRIP, SILICONE, Play, replay_equals_live

G = Mass.grams


def test_a_count_stands_against_what_the_sheet_said_and_casts_draw_it_down():
    play = Play()
    lot = Lot("A", "W-17", G(4000))
    assert play.standing.left("W-17", lot.left) == G(4000)
    play.send(msg.CountLot("W-17", G(812), G(240), "page"))
    assert play.standing.left("W-17", lot.left) == G(572)
    play.begin(SILICONE, "220", GRIP, lots=(lot,))
    play.put("24.3")
    play.pour("200")
    assert play.standing.left("W-17", lot.left).g == pytest.approx(372, abs=1)
    play.send(msg.CountLot("W-17", G(600), G(240), "page"))
    assert play.standing.left("W-17", lot.left) == G(360)
    assert replay_equals_live(play)


def test_a_batch_that_the_count_does_not_cover_is_refused():
    play = Play()
    play.send(msg.CountLot("W-17", G(300), G(240), "page"))
    with pytest.raises(Refused, match=r"60\.0 g are left of its lot"):
        play.begin(SILICONE, "220", GRIP, lots=(Lot("A", "W-17", G(4000)),))


def test_a_lot_that_nobody_knew_is_known_once_weighed():
    play = Play()
    assert play.standing.left("new", None) is None
    play.send(msg.CountLot("new", G(100), G(0), "page"))
    assert play.standing.left("new", None) == G(100)


@pytest.mark.parametrize(("lot", "gross", "empty"), [("", 100, 10), ("x", 10, 100), ("x", 10, -1)])
def test_a_count_that_cannot_be_changes_nothing(lot, gross, empty):
    play = Play()
    with pytest.raises(Refused):
        play.send(msg.CountLot(lot, G(gross), G(empty), "page"))
    assert play.events(ev.LotCounted) == []
