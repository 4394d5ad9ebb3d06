"""The real server on loopback: many streams, stalled clients, a clean stop."""

from __future__ import annotations

import http.client
import json
import os
import select
import socket
import threading
from contextlib import ExitStack, contextmanager
from dataclasses import replace

import pytest

from station.phone import stream
from station.phone.server import WebFault, serving
from tests.phone.shown import CURING, WEIGHING, opened_station

DEADLINE_S = 20.0


class Listener:
    """One open stream; `next_state` gives the states that it is sent."""

    def __init__(self, port: int, headers: dict[str, str] | None = None) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=DEADLINE_S)
        self.connection.request("GET", "/api/stream", headers=headers or {})
        self.answer = self.connection.getresponse()

    def next_state(self):
        while line := self.answer.readline():
            if line.startswith(b"data: {"):
                return json.loads(line[6:])
        return None

    def next_beat(self):
        """How old the state had grown when it was sent, in seconds."""
        while line := self.answer.readline():
            if line == b"event: beat\n":
                return float(self.answer.readline()[6:])
        return None

    def state_number(self, seq):
        """Read on until the state `seq`; None when the stream ends before it."""
        while (seen := self.next_state()) is not None:
            if seen["seq"] >= seq:
                return seen
        return None

    def close(self):
        self.answer.close()
        self.connection.close()


@contextmanager
def served(limit=50, patience_s=5.0, untaken_s=20.0):
    with opened_station(limit) as station:
        station.post(WEIGHING)
        with serving(station.app, "127.0.0.1", 0, station.streams.end, patience_s, untaken_s=untaken_s) as port:
            yield station, port


def get(port, place):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=DEADLINE_S)
    connection.request("GET", place)
    answer = connection.getresponse()
    body = answer.read().decode()
    connection.close()
    return answer.status, body


def until(true):
    """Wait for `true()` with one overall deadline."""
    tick = threading.Event()
    for _ in range(int(DEADLINE_S / 0.02)):
        if true():
            return True
        tick.wait(0.02)
    return False


def test_a_stream_begins_with_the_full_state_and_goes_on_with_each_newer_one():
    with served() as (station, port), ExitStack() as stack:
        listener = Listener(port)
        stack.callback(listener.close)
        assert listener.answer.headers["Content-Type"].startswith("text/event-stream")
        assert listener.next_state()["bench"]["number"] == 14
        station.post(replace(WEIGHING, seq=2, bench=None))
        assert listener.next_state()["bench"] is None


def test_a_stream_skips_what_is_overtaken_but_never_the_newest():
    with served() as (station, port), ExitStack() as stack:
        listener = Listener(port)
        stack.callback(listener.close)
        listener.next_state()
        for seq in range(2, 400):
            station.post(replace(WEIGHING, seq=seq))
        sent = [listener.next_state()["seq"]]
        while sent[-1] < 399:
            sent.append(listener.next_state()["seq"])
        assert sent == sorted(sent)
        assert len(sent) < 50


def test_a_silent_bench_still_sends_signs_of_life():
    with served() as (_, port), ExitStack() as stack:
        listener = Listener(port)
        stack.callback(listener.close)
        listener.next_state()
        lines = [listener.answer.readline() for _ in range(12)]
        assert lines.count(b"event: beat\n") >= 2


def test_a_beat_tells_by_the_stations_clock_how_long_the_bench_has_stood_still():
    with served() as (station, port), ExitStack() as stack:
        station.post(replace(WEIGHING, seq=2, at=station.clock.now()))
        station.clock.advance(7.5)
        listener = Listener(port)
        stack.callback(listener.close)
        assert listener.next_state()["seq"] == 2
        assert listener.next_beat() == 7.5
        station.clock.advance(60)
        assert until(lambda: listener.next_beat() == 67.5)
        assert json.loads(get(port, "/api/state")[1])["age_s"] == 67.5
        station.post(replace(WEIGHING, seq=3, at=station.clock.now()))
        assert listener.next_state()["seq"] == 3
        assert listener.next_beat() == 0.0


def test_a_page_that_was_cut_off_goes_on_with_the_whole_newest_state_whatever_it_heard_last():
    with served() as (station, port), ExitStack() as stack:
        station.post(replace(WEIGHING, seq=9))
        for last in ("9", "8", "4711", "nonsense"):
            listener = Listener(port, {"Last-Event-ID": last})
            stack.callback(listener.close)
            assert listener.next_state()["seq"] == 9


def test_fifty_pages_and_ordinary_requests_go_on_together_and_the_next_page_gets_a_sentence():
    with served() as (station, port), ExitStack() as stack:
        listeners = [Listener(port) for _ in range(50)]
        for listener in listeners:
            stack.callback(listener.close)
        station.post(replace(WEIGHING, seq=2))
        assert all(listener.state_number(2) is not None for listener in listeners)
        assert get(port, "/")[0] == 200
        status, body = get(port, "/api/stream")
        assert status == 503
        assert "Too many pages" in json.loads(body)["refused"]


def test_a_page_that_goes_away_gives_its_place_back():
    with served(limit=1) as (station, port), ExitStack() as stack:
        first = Listener(port)
        first.next_state()
        assert get(port, "/api/stream")[0] == 503
        first.close()
        assert until(lambda: station.streams.open == 0)
        second = Listener(port)
        stack.callback(second.close)
        assert second.next_state() is not None


def test_asking_only_for_the_head_of_a_stream_takes_no_place():
    with served(limit=2) as (station, port):
        for _ in range(5):
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=DEADLINE_S)
            connection.request("HEAD", "/api/stream")
            assert connection.getresponse().status == 200
            connection.close()
            assert until(lambda: station.streams.open == 0)


def test_a_client_that_takes_nothing_is_let_go_and_the_others_hear_on():
    many = CURING * 100
    with served(patience_s=0.3) as (station, port), ExitStack() as stack:
        stalled = socket.socket()
        stack.callback(stalled.close)
        stalled.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        stalled.connect(("127.0.0.1", port))
        stalled.sendall(b"GET /api/stream HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        assert until(lambda: station.streams.open == 1)
        well = Listener(port)
        stack.callback(well.close)
        seq = 1
        while station.streams.open == 2:
            seq += 1
            station.post(replace(WEIGHING, seq=seq, curing=many))
            assert well.state_number(seq) is not None
            assert seq < 300, "the stalled client was never let go"
        assert station.streams.open == 1
        station.post(replace(WEIGHING, seq=seq + 1))
        assert well.state_number(seq + 1) is not None


def ended(connection):
    """Whether the other side has cut the connection, found out without reading from it."""
    watch = select.poll()
    watch.register(connection, select.POLLRDHUP)
    return any(seen & (select.POLLHUP | select.POLLERR | select.POLLRDHUP) for _, seen in watch.poll(0))


def silent_client(port, place):
    """It asks for `place` and takes nothing of the answer."""
    client = socket.socket()
    client.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
    client.connect(("127.0.0.1", port))
    client.sendall(f"GET {place} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n".encode())
    return client


@pytest.mark.parametrize("place", ["/", "/api/state", "/api/stream", "/static/0/live.js", "/nothing"])
def test_every_answer_ends_its_connection(place):
    with served() as (_, port):
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=DEADLINE_S)
        connection.request("GET", place)
        assert connection.getresponse().headers["Connection"] == "close"
        connection.close()


def test_a_client_that_is_let_go_keeps_no_connection():
    with served(patience_s=0.3) as (station, port), ExitStack() as stack:
        stalled = silent_client(port, "/api/stream")
        stack.callback(stalled.close)
        assert until(lambda: station.streams.open == 1)

        def gone():
            newest = station.board.latest().seq + 1
            station.post(replace(WEIGHING, seq=newest, curing=CURING * 100))
            return ended(stalled)

        assert until(gone)
        assert station.streams.open == 0


@pytest.mark.parametrize("place", ["/api/stream", "/api/state"])
def test_what_nobody_takes_ends_the_connection_though_no_thread_waits_for_it(place):
    with served(patience_s=600, untaken_s=1.0) as (station, port), ExitStack() as stack:
        station.post(replace(WEIGHING, seq=2, curing=CURING * 300))
        before = len(os.listdir("/proc/self/fd"))
        stalled = silent_client(port, place)
        stack.callback(stalled.close)
        assert until(lambda: len(os.listdir("/proc/self/fd")) == before + 2)
        # Its own end is still open.
        assert until(lambda: len(os.listdir("/proc/self/fd")) == before + 1)
        assert until(lambda: station.streams.open == 0)


def test_a_slow_client_is_only_a_few_states_behind():
    with served(patience_s=600) as (station, port), ExitStack() as stack:
        slow = silent_client(port, "/api/stream")
        stack.callback(slow.close)
        well = Listener(port)
        stack.callback(well.close)
        for seq in range(2, 26):
            station.post(replace(WEIGHING, seq=seq, curing=CURING * 20))
            well.state_number(seq)
        taken = slow.makefile("rb")
        stack.callback(taken.close)
        numbers = []
        while not numbers or numbers[-1] < 25:
            line = taken.readline()
            if line.startswith(b"id: "):
                numbers.append(int(line[4:]))
        assert len(numbers) < 12, "so many stood in the way of the newest"


def test_half_a_request_does_not_keep_others_waiting():
    with served() as (_, port), ExitStack() as stack:
        for _ in range(70):
            half = socket.create_connection(("127.0.0.1", port))
            stack.callback(half.close)
            half.sendall(b"POST /api/press HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 900\r\n\r\n{")
        assert get(port, "/api/state")[0] == 200


def test_the_server_stops_with_streams_open_and_leaves_no_thread_and_no_port():
    before = set(threading.enumerate())
    with ExitStack() as stack:
        with served() as (_, port):
            listeners = [Listener(port) for _ in range(10)]
            for listener in listeners:
                stack.callback(listener.close)
                listener.next_state()
        assert all(listener.next_state() is None for listener in listeners)
    assert until(lambda: set(threading.enumerate()) <= before)
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", port))


def test_a_stream_that_waits_for_news_ends_at_once_with_the_server(monkeypatch):
    monkeypatch.setattr(stream, "LOOK_UP_S", 10 * DEADLINE_S)
    with served() as (station, port):
        listener = Listener(port)
        listener.next_state()
        # Only then it waits for news: a moment before, it pauses, and that pause ends at once in any case.
        assert until(lambda: station.board._changed._waiters)
        assert station.streams.end(DEADLINE_S)
        listener.close()


def test_the_server_stops_although_a_client_takes_nothing():
    before = set(threading.enumerate())
    with ExitStack() as stack, served(patience_s=600) as (station, port):
        stalled = socket.socket()
        stack.callback(stalled.close)
        stalled.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        stalled.connect(("127.0.0.1", port))
        stalled.sendall(b"GET /api/stream HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        well = Listener(port)
        stack.callback(well.close)
        for seq in range(2, 12):
            station.post(replace(WEIGHING, seq=seq, curing=CURING * 200))
            assert well.state_number(seq) is not None
    assert until(lambda: set(threading.enumerate()) <= before)


def test_starting_and_stopping_many_times_leaves_nothing_behind():
    before = set(threading.enumerate())
    for _ in range(10):
        with served() as (_, port):
            assert get(port, "/api/state")[0] == 200
    assert until(lambda: set(threading.enumerate()) <= before)


def test_a_port_in_use_is_told_in_a_sentence():
    with served() as (station, port):
        second = serving(station.app, "127.0.0.1", port, station.streams.end)
        with pytest.raises(WebFault) as fault, second:
            raise AssertionError("two servers on one port")
    assert f"Port {port}" in fault.value.sentence()
    assert "[web]" in fault.value.sentence()


@pytest.mark.parametrize(("host", "port"), [("192.0.2.1", 18470), ("127.0.0.1", 99999), ("no such host", 18470)])
def test_an_address_that_cannot_be_had_is_told_in_a_sentence(host, port):
    # 192.0.2.0/24 is kept free for documentation (RFC 5737).
    with opened_station() as station:
        nowhere = serving(station.app, host, port, station.streams.end)
        with pytest.raises(WebFault, match="cannot listen"), nowhere:
            raise AssertionError("served where nobody can")
