"""A card for the wall: the page's addresses as codes for a phone's camera, on one sheet of A6 (ISO 216)."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path
from xml.etree import ElementTree as ET

from station.address.code import QUIET, rows
from station.address.reach import Address
from station.errors import LedgerFault
from station.keeping import replace_whole
from station.texts import t

WIDTH_MM, HEIGHT_MM = 105.0, 148.0
_EDGE, _CODE_MM = 8.0, 42.0
_BLOCK_MM = 62.0
_MOST = 2
"""The name and the first number: more would be too small for a camera at arm's length."""
_LINE, _NAME, _URL = 52, 25, 36
"""Letters of a line of words, of the name, and of an address in large letters."""
_LOOKS = (
    "text{font-family:sans-serif;fill:#000}.name{font-size:6px;font-weight:bold}"
    ".url{font-size:4.4px}.words{font-size:3px}"
)


def write_card(file: Path, name: str, addresses: Sequence[Address]) -> None:
    """Write the card of the station `name` to a file. Raises LedgerFault when it cannot be written."""
    try:
        replace_whole(file, card(name, addresses))
    except LedgerFault as why:
        raise LedgerFault(str(why), t("Name a file in a folder that you may write to.")) from why


def card(name: str, addresses: Sequence[Address]) -> str:
    """The card as an SVG in its own size."""
    root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "viewBox": f"0 0 {WIDTH_MM:g} {HEIGHT_MM:g}"})
    root.set("width", f"{WIDTH_MM:g}mm")
    root.set("height", f"{HEIGHT_MM:g}mm")
    ET.SubElement(root, "title").text = name
    ET.SubElement(root, "style").text = _LOOKS
    ET.SubElement(root, "rect", {"width": f"{WIDTH_MM:g}", "height": f"{HEIGHT_MM:g}", "fill": "#fff"})
    _text(root, 13.0, "name", textwrap.shorten(name, _NAME, placeholder="…"))
    for place, one in enumerate(addresses[:_MOST]):
        top = 17.0 + place * _BLOCK_MM
        _code(root, top, one.url)
        _text(root, top + _CODE_MM + 4.0, "url" if len(one.url) <= _URL else "words", one.url)
        for line, words in enumerate(textwrap.wrap(one.words, _LINE)):
            _text(root, top + _CODE_MM + 8.5 + 3.8 * line, "words", words)
    _text(root, HEIGHT_MM - 6.0, "words", t("The phone must be in the same network."))
    return ET.tostring(root, encoding="unicode")


def _text(root: ET.Element, y: float, looks: str, words: str) -> None:
    ET.SubElement(root, "text", {"x": f"{_EDGE:g}", "y": f"{y:g}", "class": looks}).text = words


def _code(root: ET.Element, top: float, url: str) -> None:
    dark = rows(url)
    unit = _CODE_MM / len(dark)
    # The quiet zone lies in the margin, so that the code stands flush with the text.
    shift = f"translate({_EDGE - QUIET * unit:g} {top:g}) scale({unit:g})"
    runs = "".join(f"M{x} {y}h1v1h-1z" for y, row in enumerate(dark) for x, is_dark in enumerate(row) if is_dark)
    ET.SubElement(root, "path", {"d": runs, "transform": shift})
