"""The real computer behind the steps: commands, limits, pages; and the whole command where it ends early."""

import http.server
import sys
import threading

import pytest

import station.installing.__main__ as whole
from station.installing.machine import LATE, MISSING
from station.installing.this_machine import ThisMachine
from station.languages import ENGLISH, begin_to_speak


@pytest.fixture
def noted():
    return []


@pytest.fixture
def machine(noted):
    return ThisMachine(noted.append)


def test_a_command_tells_its_code_and_all_it_said_and_that_is_noted(machine, noted):
    ran = machine.run("sh", "-c", "echo out; echo err >&2; exit 3", limit_s=60)
    assert (ran.code, ran.said) == (3, "out\nerr\n")
    assert not ran.well
    assert noted[0] == "$ sh -c echo out; echo err >&2; exit 3"
    assert "out\nerr" in noted[1]


def test_a_command_that_takes_too_long_is_ended_and_one_that_is_missing_said(machine):
    assert machine.run("sleep", "600", limit_s=0.1).code == LATE
    assert machine.run("/nonexistent/program", limit_s=60).code == MISSING


def test_a_version_that_is_asked_answers_with_its_own_code_and_not_with_that_of_the_source(machine, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", "/some/source")
    said = machine.run("sh", "-c", "echo path=$PYTHONPATH tmp=$TMPDIR", limit_s=60).said
    assert said == "path= tmp=/var/tmp\n"


def test_nothing_waits_for_a_person(machine):
    assert machine.run("cat", limit_s=60).said == ""


class _Page(http.server.BaseHTTPRequestHandler):
    code = 200

    def do_GET(self):
        self.send_response(self.code)
        self.end_headers()

    def log_message(self, *_):
        pass


@pytest.mark.parametrize(("code", "well"), [(200, True), (403, True), (500, False)])
def test_a_page_that_answers_is_well_whatever_it_says_but_an_error_of_its_own(machine, code, well):
    handler = type("Page", (_Page,), {"code": code})
    with http.server.HTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.handle_request)
        thread.start()
        assert machine.answers(f"http://127.0.0.1:{server.server_port}/") is well
        thread.join()
        port = server.server_port
    assert not machine.answers(f"http://127.0.0.1:{port}/")
    assert not machine.answers(f"https://127.0.0.1:{port}/")


def test_there_is_room_where_a_folder_will_lie(machine, tmp_path):
    assert machine.free_mb(tmp_path / "not/yet") == machine.free_mb(tmp_path)


@pytest.fixture
def asked(monkeypatch, tmp_path):
    monkeypatch.setattr(whole, "LOG", tmp_path / "log")
    monkeypatch.setattr(whole.os, "geteuid", lambda: 1000)

    def ask(*words):
        monkeypatch.setattr(sys, "argv", ["install", *words])
        return whole.main()

    yield ask
    begin_to_speak(ENGLISH)


def test_whoever_is_not_the_administrator_is_told_so_in_the_language_of_the_terminal(asked, capsys, monkeypatch):
    monkeypatch.delenv("LC_ALL", raising=False)
    monkeypatch.setenv("LANG", "C.UTF-8")
    assert asked() == 1
    assert capsys.readouterr().out == "Only the computer's administrator can do this: sudo systemd/install\n"
    monkeypatch.setenv("LANG", "de_DE.UTF-8")
    assert asked("--upgrade") == 1
    assert "Administrator" in capsys.readouterr().out


def test_what_was_told_is_kept_for_the_administrator_alone(asked, tmp_path, capsys):
    asked("--language", "en")
    assert (tmp_path / "log").read_text() == capsys.readouterr().out
    assert (tmp_path / "log").stat().st_mode & 0o777 == 0o600


def test_an_option_that_is_none_is_refused(asked, capsys):
    with pytest.raises(SystemExit) as end:
        asked("--upgarde")
    assert end.value.code == 2
