"""Addresses, the name in the network, and the page's port."""

import http.server
import socket
import threading
from functools import partial

import pytest

from station.doctor.checks import network
from station.doctor.finding import Verdict
from station.doctor.life import Life
from station.doctor.probe import Machine
from tests.doctor.ward import STATION, STRANGER, only, verdicts

TRIE = "Main:\n  +-- 192.0.2.0/24 2 0 2\n     |-- 192.0.2.17\n        /32 host LOCAL\n"


@pytest.fixture(autouse=True)
def name(monkeypatch):
    monkeypatch.setattr(socket, "gethostname", lambda: "wrenfield")


def test_the_addresses_are_told_and_not_to_others(ward):
    ward.put("/proc/self/net/fib_trie", TRIE)
    found = only(network.network, ward.patient())
    assert found.verdict is Verdict.PASS
    assert "http://wrenfield.local:8060/, http://192.0.2.17:8060/" in found.told
    bare = found.without_names().told
    assert "wrenfield" not in bare
    assert "192.0.2.17" not in bare


def test_a_name_that_nobody_makes_known_needs_a_look(ward):
    ward.put("/proc/self/net/fib_trie", TRIE)
    ward.answer("systemctl is-active avahi-daemon.service", "inactive\n", code=3)
    assert verdicts(network.network(ward.patient())) == [Verdict.PASS, Verdict.LOOK]
    ward.answer("systemctl is-active avahi-daemon.service", "active\n")
    assert verdicts(network.network(ward.patient())) == [Verdict.PASS]


def test_without_any_network_it_fails(ward):
    found = only(network.network, ward.patient())
    assert found.verdict is Verdict.FAIL
    assert "no address in any network" in found.told


def test_a_page_for_this_computer_only_needs_a_look(ward):
    ward.settings('[web]\nhost = "127.0.0.1"\n')
    assert only(network.network, ward.patient()).verdict is Verdict.LOOK


def test_a_free_port_passes_while_the_station_is_stopped_and_fails_while_it_runs(ward):
    assert only(network.page, ward.patient()).told.startswith("Port 8060 is free")
    assert only(network.page, ward.patient(Life.RUNS)).verdict is Verdict.FAIL


@pytest.mark.parametrize("table", ["tcp", "tcp6"])
@pytest.mark.parametrize("life", [Life.STOPPED, Life.RUNS])
def test_a_port_that_another_program_has_fails_and_names_it(ward, table, life):
    ward.listening(8060, inode=99, table=table)
    ward.process(STRANGER, "other-page", "socket:[99]")
    found = only(network.page, ward.patient(life))
    assert found.verdict is Verdict.FAIL
    assert "taken by other-page (process 4711)" in found.told


def test_a_port_that_somebody_unseen_has_fails_too_while_the_station_is_stopped(ward):
    ward.listening(8060)
    assert "taken by another program" in only(network.page, ward.patient()).told


def test_other_ports_and_lines_that_do_not_listen_are_passed_over(ward):
    ward.listening(8061)
    assert "is free" in only(network.page, ward.patient()).told
    ward.put("/proc/self/net/tcp", "head\nnonsense\n")
    assert "is free" in only(network.page, ward.patient()).told


def test_the_stations_own_page_passes_when_it_answers_and_fails_when_it_is_silent(ward):
    ward.listening(8060, inode=99)
    ward.process(STATION, "tarebell", "socket:[99]")
    asked = []
    answers = partial(network.page, silent=lambda url: asked.append(url) or "")
    assert only(answers, ward.patient(Life.RUNS)).verdict is Verdict.PASS
    assert asked == ["http://127.0.0.1:8060/"]
    found = only(partial(network.page, silent=lambda _url: "timed out"), ward.patient(Life.RUNS))
    assert found.verdict is Verdict.FAIL
    assert "does not answer: timed out." in found.told


class Quiet(http.server.BaseHTTPRequestHandler):
    """A page that says nothing in the log."""

    status = 200

    def do_GET(self):
        self.send_response(self.status)
        self.end_headers()

    def log_message(self, *_words):
        """Say nothing."""


class Broken(Quiet):
    """A page that fails."""

    status = 500


@pytest.mark.parametrize(("kind", "verdict"), [(Quiet, Verdict.PASS), (Broken, Verdict.FAIL)])
def test_a_real_page_is_found_and_asked(ward, kind, verdict):
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), kind) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        try:
            ward.settings(f'[web]\nhost = "127.0.0.1"\nport = {server.server_port}\n')
            # This very process listens, which is nobody else's.
            assert only(network.page, ward.patient(Life.RUNS, probe=Machine())).verdict is verdict
        finally:
            server.shutdown()
            thread.join()


def test_a_real_listener_of_another_process_is_a_stranger(ward):
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        listener.listen()
        ward.settings(f"[web]\nport = {listener.getsockname()[1]}\n")
        found = only(network.page, ward.patient(probe=Machine()))
        assert found.verdict is Verdict.FAIL
        assert "is taken by" in found.told
