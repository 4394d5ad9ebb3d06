"""The page over TLS, with a certificate made for the test: pages, streams, stalled and silly clients, a clean stop."""

from __future__ import annotations

import http.client
import json
import re
import shutil
import socket
import ssl
import subprocess
import threading
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import replace

import pytest
from click.testing import CliRunner

from station import service
from station.cli import main
from station.config import WebSettings
from station.phone.server import serving
from station.phone.tls import CertificateFault, QuietSocket, context_of
from tests.phone.shown import CURING, WEIGHING, Station, opened_station
from tests.phone.test_server import DEADLINE_S, until

PASSWORD = "a password"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> WebSettings:
    """A self-signed certificate for this machine's loopback address."""
    program = shutil.which("openssl")
    if program is None:
        pytest.skip("the openssl program is not installed")
    folder = tmp_path_factory.mktemp("certificate")
    command = [program, "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
    command += ["-subj", "/CN=bench", "-addext", "subjectAltName=IP:127.0.0.1", "-days", "2"]
    command += ["-keyout", str(folder / "key.pem"), "-out", str(folder / "certificate.pem")]
    subprocess.run(command, check=True, capture_output=True)
    locked = [program, "pkey", "-in", str(folder / "key.pem"), "-aes256", "-passout", f"pass:{PASSWORD}"]
    subprocess.run([*locked, "-out", str(folder / "locked.pem")], check=True, capture_output=True)
    return WebSettings(certificate=folder / "certificate.pem", key=folder / "key.pem")


@pytest.fixture
def served(made: WebSettings) -> Iterator[tuple[Station, int]]:
    with opened_station() as station:
        station.post(WEIGHING)
        with serving(station.app, "127.0.0.1", 0, station.streams.end, 0.3, tls=context_of(made)) as port:
            yield station, port


def trusting(made: WebSettings) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=str(made.certificate))


def line(made: WebSettings, port: int) -> http.client.HTTPSConnection:
    return http.client.HTTPSConnection("127.0.0.1", port, timeout=DEADLINE_S, context=trusting(made))


def test_a_client_that_checks_the_certificate_gets_pages_one_after_the_other(made, served):
    _, port = served
    page = line(made, port)
    for place in ("/", "/curing", "/api/state", "/static/0/station.css"):
        page.request("GET", place)
        answer = page.getresponse()
        assert answer.status == 200
        assert len(answer.read()) == int(answer.headers["Content-Length"])
    page.close()


def test_a_phone_is_paired_over_tls_with_a_cookie_that_never_travels_without_and_sends_a_long_body(made, served):
    station, port = served
    page, cookie, token = line(made, port), "", ""

    def asked(method: str, place: str, body: str = "", kind: str = "application/x-www-form-urlencoded") -> bytes:
        nonlocal cookie, token
        headers = {"Cookie": cookie, "Origin": f"https://127.0.0.1:{port}", "X-Tarebell-Token": token}
        page.request(method, place, body, headers | {"Content-Type": kind})
        answer = page.getresponse()
        if set_cookie := answer.headers["Set-Cookie"]:
            assert {"Secure", "HttpOnly", "SameSite=Lax", "Path=/"} <= {part.strip() for part in set_cookie.split(";")}
            cookie = set_cookie.partition(";")[0]
            assert cookie.startswith(f"__Host-tarebell-{port}=")
        text = answer.read()
        if found := re.search(rb'name="token" content="([^"]+)"', text):
            token = found[1].decode()
        return text

    asked("GET", "/pair")
    asked("POST", "/pair/ask")
    asked("POST", "/pair", f"code={station.codes[-1]}")
    assert b"Pair this device to touch" not in asked("GET", "/")
    # Longer than the server reads at once, so that it comes in several records.
    said = json.dumps({"number": 14, "text": "x" * 16_000})
    assert json.loads(asked("POST", "/api/note", said, "application/json"))["refused"].startswith("text has 16000")
    page.close()


def test_a_stream_tells_each_newer_state(made, served):
    station, port = served
    page = line(made, port)
    page.request("GET", "/api/stream")
    answer = page.getresponse()
    for seq in range(2, 12):
        station.post(replace(WEIGHING, seq=seq, curing=CURING * 40))
        while (said := answer.readline()) and not said.startswith(b'data: {"seq":%d,' % seq):
            pass
        assert json.loads(said[6:])["curing_count"] == len(CURING) * 40
    answer.close()
    page.close()


def test_who_speaks_no_tls_or_stops_in_the_handshake_is_no_trouble_for_the_others(made, served, caplog):
    _, port = served
    with ExitStack() as stack:
        for said in (b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", b"\x16\x03\x01\x02\x00\x01", b"", b"\xff" * 4000):
            silly = stack.enter_context(socket.create_connection(("127.0.0.1", port), timeout=DEADLINE_S))
            silly.sendall(said)
        page = line(made, port)
        page.request("GET", "/api/state")
        assert page.getresponse().status == 200
        page.close()
    assert [one for one in caplog.records if one.levelname in ("ERROR", "CRITICAL")] == []


def test_a_client_that_takes_nothing_is_let_go_over_tls_too(made, served):
    station, port = served
    with ExitStack() as stack:
        raw = socket.socket()
        raw.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        raw.connect(("127.0.0.1", port))
        stalled = stack.enter_context(trusting(made).wrap_socket(raw, server_hostname="127.0.0.1"))
        stalled.sendall(b"GET /api/stream HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        assert until(lambda: station.streams.open == 1)
        seqs = iter(range(2, 100_000))

        def gone() -> bool:
            station.post(replace(WEIGHING, seq=next(seqs), curing=CURING * 200))
            return station.streams.open == 0

        assert until(gone)


def test_the_server_stops_with_encrypted_streams_open_and_leaves_no_thread(made):
    before = set(threading.enumerate())
    with ExitStack() as stack, opened_station() as station:
        station.post(WEIGHING)
        with serving(station.app, "127.0.0.1", 0, station.streams.end, tls=context_of(made)) as port:
            for _ in range(3):
                page = line(made, port)
                stack.callback(page.close)
                page.request("GET", "/api/stream")
                assert page.getresponse().readline()
    assert until(lambda: set(threading.enumerate()) <= before)


def test_a_certificate_that_cannot_be_used_is_told_in_a_sentence(made, tmp_path):
    assert made.certificate is not None
    assert made.key is not None
    other = tmp_path / "other.pem"
    other.write_text("no certificate")
    for wrong, says in (
        (replace(made, certificate=tmp_path / "none.pem"), "none.pem cannot be read: No such file"),
        (replace(made, certificate=other), "other.pem and .*key.pem are not a certificate and its key"),
        (replace(made, key=made.certificate), "are not a certificate and its key"),
        (replace(made, key=made.key.with_name("locked.pem")), "without a password"),
    ):
        with pytest.raises(CertificateFault, match=says):
            context_of(wrong)
    assert context_of(WebSettings()) is None


def test_the_check_of_the_settings_tells_a_certificate_that_the_station_could_not_use(made, tmp_path):
    settings = tmp_path / "station.toml"
    least = 'state_dir = "state"\n[scale]\nport = "/dev/ttyUSB0"\nfamily = "status-commas"\n'
    settings.write_text(f'{least}[web]\ncertificate = "{made.certificate}"\nkey = "{made.key}"\n')
    assert CliRunner().invoke(main, ["check-settings", "--config", str(settings)]).exit_code == 0
    settings.write_text(f'{least}[web]\ncertificate = "none.pem"\nkey = "{made.key}"\n')
    refused = CliRunner().invoke(main, ["check-settings", "--config", str(settings)])
    assert refused.exit_code != 0
    assert "none.pem cannot be read" in refused.output


def test_the_watchdog_finds_a_page_over_tls_and_notices_when_there_is_none(made, served):
    _, port = served
    assert service._answers(f"https://127.0.0.1:{port}/")
    assert not service._answers(f"http://127.0.0.1:{port}/")


def test_what_is_sent_after_the_end_of_a_line_is_an_error_and_never_goes_out_in_the_clear(made):
    context = context_of(made)
    assert context is not None
    ours, theirs = socket.socketpair()
    with theirs:
        quiet = QuietSocket(context.wrap_socket(ours, server_side=True, do_handshake_on_connect=False))
        quiet.close()
        with pytest.raises(OSError, match="Bad file descriptor"):
            quiet.send(b"in the clear")
        assert theirs.recv(100) == b""
