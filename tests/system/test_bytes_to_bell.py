"""From bytes on the line to masses, clocks, pins, journal rows and the page's stream: one whole cast."""

import json
import urllib.request

import pytest

from station.core import events as ev
from station.core.clocks import ClockKind
from station.core.messages import Demold, Press, Pressed
from station.store.engines import open_reader
from station.store.verify import verify
from tests.system.whole import Whole


@pytest.fixture
def whole(tmp_path):
    with Whole(tmp_path) as whole:
        yield whole


def begin(whole: Whole, mold: str = "paddle-grip") -> None:
    whole.ask(whole.station.library.plan("example-silicone", mold, "220 g", {"A": "WW-SA-0117"}, "test"))


def press(whole: Whole) -> None:
    whole.ask(Pressed(Press.SHORT, "pedal"))


def journal(whole: Whole) -> list[str]:
    engine = open_reader(whole.station.archive.place)
    with engine.connect() as db:
        kinds = [row[0] for row in db.exec_driver_sql("select kind from journal order by seq")]
    engine.dispose()
    return kinds


def buzzes(whole: Whole) -> int:
    """How often the buzzer's pin has gone high so far."""
    return sum(1 for state in whole.pins.pin(17).states if state.state)


def state_events(url: str, count: int) -> list[dict]:
    found = []
    with urllib.request.urlopen(f"{url}api/stream", timeout=20) as stream:
        for line in stream:
            if line.startswith(b"data: "):
                found.append(json.loads(line[6:]))
                if len(found) == count:
                    return found
    return found


def test_one_cast_from_bytes_to_the_demold_bell(whole):
    begin(whole)
    whole.stand(24.3)
    now = whole.pour(24.3, 199.8, 10)
    assert [e.net.mg for e in whole.station.loop.standing().bench.accepted] == [199800]
    press(whole)
    whole.pour(now, 20.0, 3)
    cast = whole.station.loop.standing().bench
    assert [e.net.mg for e in cast.accepted] == [199800, 20000]
    assert cast.clock(ClockKind.POT_LIFE) is not None
    assert {"CastBegun", "CupTared", "Accepted", "FirstContact"} <= set(journal(whole))
    first = state_events(whole.station.url, 1)[0]
    assert first["bench"]["number"] == 1
    whole.clock.advance(185)
    whole.stand(0.0, 0.5)
    press(whole)
    press(whole)
    whole.clock.advance(4 * 3600)
    before = buzzes(whole)
    whole.stand(0.0, 0.5)
    alarm = whole.seen.alarms[0]
    assert (alarm.number, alarm.clock) == (1, ClockKind.DEMOLD)
    wait_for(lambda: buzzes(whole) >= before + 3)
    press(whole)
    whole.ask(Demold(1, "test"))
    assert journal(whole)[-2:] == [ev.AlarmAcknowledged.__name__, ev.Demolded.__name__]
    assert verify(whole.station.archive.place).ok


def wait_for(holds) -> None:
    import threading

    for _ in range(2000):
        if holds():
            return
        threading.Event().wait(0.01)
    raise AssertionError("never happened")


def test_the_accept_cue_is_heard_at_the_pin(whole):
    begin(whole)
    whole.stand(24.3)
    wait_for(lambda: buzzes(whole) >= 1)
    before = buzzes(whole)
    whole.pour(24.3, 200, 20)
    assert whole.station.loop.standing().bench.accepted
    wait_for(lambda: buzzes(whole) > before)


def test_an_unplugged_scale_blanks_the_number_and_weighing_goes_on_after_it(whole):
    begin(whole)
    whole.stand(24.3)
    whole.pour(24.3, 100, 20)
    whole.port.unplug()
    lost = whole.until(lambda seen: seen.scale.state.name == "LOST")
    assert lost.scale.gross is None
    assert lost.banners
    whole.port.plug_in()
    whole.until(lambda seen: seen.scale.state.name != "LOST")
    for _ in range(100):
        whole.port.emit(b"ST,+000124.3  g\r\n")
        if whole.station.board.newer_than(whole.seen.seq, 0.05) and whole.seen.scale.state.name == "LIVE":
            break
    whole.stand(124.3, 3)
    whole.pour(124.3, 100, 20)
    assert [e.net.mg for e in whole.station.loop.standing().bench.accepted] == [200000]


def test_garbage_on_the_line_is_no_load(whole):
    begin(whole)
    whole.stand(24.3)
    before = whole.seen.scale.frames
    whole.port.emit(b"\xff\xfe\x80garbage\r\nST,+00\r\n12:34:56\r\nOL,+9999999E+19\r\n")
    whole.stand(24.3, 1.0)
    cast = whole.station.loop.standing().bench
    assert cast.cup("mixing cup").tare.mg == 24300
    assert cast.accepted == ()
    assert whole.seen.scale.frames >= before
    assert whole.failure is None


def test_a_restart_comes_back_to_the_same_step(tmp_path):
    with Whole(tmp_path) as first:
        begin(first)
        first.stand(24.3)
        first.pour(24.3, 200, 20)
        clock, strip = first.clock, first.seen.bench.strip
    clock.advance(5)
    with Whole(tmp_path, clock) as again:
        assert again.seen.bench.strip == strip
        press(again)
        again.stand(224.3, 3)
        again.pour(224.3, 20, 3)
        assert len(again.station.loop.standing().bench.accepted) == 2
