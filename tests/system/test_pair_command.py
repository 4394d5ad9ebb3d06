"""`tarebell pair` at a running station: the code lets a phone touch; without a station it says what to do."""

import json
import re
import subprocess
import sys
import urllib.error
import urllib.parse
import urllib.request
from http.cookiejar import CookieJar

import pytest

from tests.system.guarded_process import PORT, ROOT, WITHIN_S, Manager

URL = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def manager(tmp_path):
    with Manager(tmp_path) as manager:
        yield manager


def pair(manager: Manager) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "station", "pair", "--config", str(manager.folder / "station.toml")],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        timeout=WITHIN_S,
    )


def test_the_code_pairs_a_phone_once(manager):
    manager.start()
    said = pair(manager)
    assert said.returncode == 0, said.stderr
    found = re.fullmatch(
        r"The pairing code is (\d{3} \d{3})\. It works once, for ten minutes: type it on the page Pair\.\n", said.stdout
    )
    assert found
    phone = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
    page = phone.open(f"{URL}/pair", timeout=WITHIN_S).read().decode()
    token = re.search('name="token" value="([^"]+)"', page)
    assert token

    def sent() -> int:
        form = urllib.parse.urlencode({"code": found[1], "device": "phone", "token": token[1]}).encode()
        request = urllib.request.Request(f"{URL}/pair", form, {"Origin": URL})
        try:
            return int(phone.open(request, timeout=WITHIN_S).status)
        except urllib.error.HTTPError as refused:
            return refused.code

    assert sent() == 200
    assert [one["name"] for one in json.loads((manager.state / "devices.json").read_text())["devices"]] == ["phone"]
    assert sent() >= 400
    assert manager.stop() == 0
    assert not (manager.state / "door.socket").exists()


def test_without_a_station_it_says_what_to_do(manager):
    said = pair(manager)
    assert said.returncode == 1
    assert said.stderr.startswith("No station answers here, or you may not ask it. Is it running?")
