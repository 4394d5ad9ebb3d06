"""The card for the wall: what a camera reads on it, and that all of it lies on the sheet."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import numpy as np
import pytest
import zxingcpp

from station.address.card import HEIGHT_MM, WIDTH_MM, card, write_card
from station.address.reach import Address
from station.errors import LedgerFault
from tests.address.seen import read

NAME = Address("http://tarebell.local:8060/", "By its name: it stays when the number changes. " * 2)
NUMBER = Address("http://192.0.2.17:8060/", "By its number: every phone finds it, until the number changes.")
LONG = Address("http://[2001:db8:17::4a2f]:8060/", "By its long number.")
SVG = "{http://www.w3.org/2000/svg}"


def codes(text: str) -> list[str]:
    """Every code on the card, each read by itself."""
    found = []
    for path in ET.fromstring(text).iter(f"{SVG}path"):
        spots = [(int(x), int(y)) for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", path.get("d", ""))]
        dark = np.zeros((max(y for _, y in spots) + 5, max(x for x, _ in spots) + 5), bool)
        for x, y in spots:
            dark[y, x] = True
        found += read(dark)
    return [words for words, kind in found if kind == zxingcpp.BarcodeFormat.QRCode]


def test_the_card_has_the_name_and_the_first_number_as_codes_and_in_letters():
    text = card("Wrenfield Works", [NAME, NUMBER, LONG])
    assert codes(text) == [NAME.url, NUMBER.url]
    letters = [each.text for each in ET.fromstring(text).iter(f"{SVG}text")]
    assert letters[0] == "Wrenfield Works"
    assert NAME.url in letters
    assert NUMBER.url in letters


def test_a_single_address_is_enough():
    assert codes(card("Wrenfield Works", [LONG])) == [LONG.url]


def test_everything_lies_on_the_sheet_and_lines_do_not_meet():
    root = ET.fromstring(card("A workshop with a name that is far too long for any card", [NAME, LONG]))
    assert root.get("width") == f"{WIDTH_MM:g}mm"
    lines = [(float(each.get("y", 0)), each.text or "", each.get("class")) for each in root.iter(f"{SVG}text")]
    sizes = {"name": 6.0, "url": 4.4, "words": 3.0}
    for y, words, looks in lines:
        assert 0 < y < HEIGHT_MM
        # A letter of these is on average less than 0.6 of its height wide.
        assert 8.0 + 0.6 * sizes[str(looks)] * len(words) <= WIDTH_MM, words
    ys = [y for y, _, _ in lines]
    assert all(later - earlier >= 3.5 for earlier, later in pairwise(ys))


def test_names_with_signs_stay_text():
    assert ET.fromstring(card("<b>&", [NAME])).findtext(f"{SVG}title") == "<b>&"


def test_a_place_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").touch()
    with pytest.raises(LedgerFault) as why:
        write_card(tmp_path / "file/card.svg", "Wrenfield Works", [NAME])
    assert "Name a file in a folder that you may write to." in why.value.sentence()
