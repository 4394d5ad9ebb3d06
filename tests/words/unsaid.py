"""What a page shows that went through no catalogue, where every text that does stands in brackets."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from importlib.resources import files

from tests.words.speaking import BEGIN, END

UNSEEN = {"script", "style", "svg", "pre", "datalist", "code"}
"""What holds no words of ours: scripts, drawings, names in files, and records that are kept as they were told."""
SPOKEN = ("aria-label", "placeholder", "alt", "title")
UNITS = r"(?:g|kg|mg|s|min|h|d|°C|K|mm|cm|cm³|m|ml|g/cm³|kg/m³|kJ/mol|MiB|KiB|MB|UTC|NCO|GPIO|JSON|TOML|JSONL|Hz|baud)"


class _Texts(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._depth = 0
        self._within: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in UNSEEN:
            self._within.append(tag)
        self.found += [_without_said(value)[0] for name, value in attrs if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        if self._within and tag == self._within[-1]:
            self._within.pop()

    def handle_data(self, data: str) -> None:
        # A text with tags of its own goes on over several pieces.
        left, self._depth = _without_said(data, self._depth)
        if not self._within:
            self.found.append(left)


def _without_said(text: str, depth: int = 0) -> tuple[str, int]:
    """The text without what stands in brackets, however deep they are within each other, and how deep it ends."""
    left = []
    for sign in text:
        depth += sign == BEGIN
        if depth == 0:
            left.append(sign)
        depth -= sign == END
    return "".join(left), depth


def _values(of: object) -> Iterator[str]:
    if isinstance(of, str):
        yield of
    elif isinstance(of, dict):
        yield from of  # keys of sheets are shown, too
        for each in of.values():
            yield from _values(each)
    elif isinstance(of, list):
        for each in of:
            yield from _values(each)


def names(more: Iterable[str] = ()) -> list[str]:
    """Names and texts that sheets bring along, the longest first; `more`: what else is told by people or devices."""
    examples = files("station") / "examples"
    told = [tomllib.loads((examples / f"{name}.toml").read_text("utf-8")) for name in ("materials", "molds")]
    return sorted({*_values(told), *more}, key=len, reverse=True)


def unsaid(page: str, known: list[str]) -> list[str]:
    """Every piece of the page's words that is neither said through the catalogue nor data."""
    parser = _Texts()
    parser.feed(page)
    found = []
    for text in parser.found:
        left = re.sub(r"\bhttps?://\S+|/\S+/\S+", " ", text)
        for name in known:
            left = left.replace(name, " ")
        left = re.sub(rf"(?<![^\W\d_]){UNITS}(?![^\W\d_])", " ", left)
        if re.search(r"[^\W\d_]{2,}", left):
            found.append(" ".join(text.split()))
    return found
