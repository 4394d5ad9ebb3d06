"""The code is read back by another program than the one that made it."""

import pytest
import zxingcpp

from station.address.code import QUIET, blocks, svg
from tests.address.seen import of_blocks, of_svg, read

QR = zxingcpp.BarcodeFormat.QRCode
URLS = pytest.mark.parametrize(
    "url", ["http://tarebell.local:8060/", "http://192.0.2.17/", "https://[2001:db8:17::4a2f]:8443/", "http://a.local/"]
)


@URLS
def test_the_code_on_the_page_says_the_address(url):
    assert read(of_svg(svg(url))) == [(url, QR)]


@URLS
def test_the_code_in_the_terminal_says_the_address(url):
    assert read(of_blocks(blocks(url))) == [(url, QR)]


def test_the_code_has_its_light_margin_and_no_style_that_the_page_would_refuse():
    text = svg("http://tarebell.local:8060/")
    dark = of_svg(text)
    assert dark.any()
    assert not dark[:QUIET].any()
    assert not dark[:, :QUIET].any()
    assert not dark[-QUIET:].any()
    assert not dark[:, -QUIET:].any()
    assert "style" not in text


def test_a_code_of_which_half_is_hidden_is_read_by_nobody():
    dark = of_svg(svg("http://192.0.2.17/"))
    dark[:, dark.shape[1] // 2 :] = True
    assert read(dark) == []


def test_a_code_of_which_a_part_is_hidden_is_still_read():
    dark = of_svg(svg("http://tarebell.local:8060/"))
    dark[14:20, 22:29] = True
    assert read(dark) == [("http://tarebell.local:8060/", QR)]
