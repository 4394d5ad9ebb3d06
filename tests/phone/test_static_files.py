"""Styles and scripts: kept by the phone until they change, packed on the wire, the same bytes at the end."""

import gzip
import re

import pytest

from station.phone.files import page_root
from station.phone.static_files import ALWAYS, read_static

STATIC = page_root() / "static"
FILES = sorted(path.relative_to(STATIC).as_posix() for path in STATIC.rglob("*") if path.is_file())


def asked(station, filename, packing="gzip, deflate"):
    with station.app.test_request_context():
        address = station.app.url_for("static", filename=filename)
    return station.client().get(address, headers={"Accept-Encoding": packing})


@pytest.mark.parametrize("name", FILES)
def test_each_file_comes_whole_packed_or_not_and_may_be_kept(station, name):
    plain = (STATIC / name).read_bytes()
    packed = asked(station, name)
    body = packed.data if packed.headers.get("Content-Encoding") is None else gzip.decompress(packed.data)
    assert body == plain
    assert len(packed.data) <= len(plain)
    assert asked(station, name, "identity").data == plain
    assert asked(station, name, "gzip;q=0").data == plain
    assert packed.headers["Cache-Control"] == ALWAYS
    assert packed.headers["Vary"] == "Accept-Encoding"
    assert packed.headers["X-Content-Type-Options"] == "nosniff"


def test_a_script_is_called_a_script_and_a_style_a_style(station):
    assert asked(station, "live.js").content_type.startswith("text/javascript")
    assert asked(station, "station.css").content_type.startswith("text/css")
    assert asked(station, "icon.svg").content_type.startswith("image/svg+xml")


def test_the_address_changes_with_any_file_and_with_nothing_else(tmp_path):
    (tmp_path / "a.js").write_text("one")
    first, files = read_static(tmp_path)
    assert read_static(tmp_path)[0] == first
    assert files["a.js"].packed is None
    (tmp_path / "b.css").write_text("")
    second = read_static(tmp_path)[0]
    (tmp_path / "a.js").write_text("two")
    assert len({first, second, read_static(tmp_path)[0]}) == 3


def test_a_page_of_before_an_update_gets_the_file_of_today_and_does_not_keep_it(station):
    old = station.client().get("/static/0123456789ab/live.js")
    assert old.status_code == 200
    assert old.headers["Cache-Control"] == "no-cache"


@pytest.mark.parametrize("name", ["nothing.js", "../templates/base.html", "%2e%2e/templates/base.html", ".", ""])
def test_nothing_else_is_given_away(station, name):
    assert station.client().get(f"/static/0123456789ab/{name}").status_code == 404


def test_every_address_of_a_style_or_script_in_a_page_carries_the_mark(station):
    mark = read_static(STATIC)[0]
    found = re.findall(r'(?:href|src)="(/static/[^"]+)"', station.client().get("/").text)
    assert len(found) >= 3
    assert all(address.startswith(f"/static/{mark}/") for address in found)
