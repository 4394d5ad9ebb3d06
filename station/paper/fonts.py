"""Letters on paper: a font that is embedded, so that umlauts print anywhere, and what becomes of letters it lacks."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

_SHIPPED: Final = Path(reportlab.__file__).parent / "fonts"
_PLACES: Final = (
    # More letters, where the system has it; else what comes with the library: Latin letters with all their accents.
    (Path("/usr/share/fonts/truetype/dejavu"), "DejaVuSans.ttf", "DejaVuSans-Bold.ttf"),
    (_SHIPPED, "Vera.ttf", "VeraBd.ttf"),
)
_BLANKS: Final = {0xA0: " ", 0x202F: " ", 0x2009: " "}
"""Narrow and hard blanks: neither font has them all."""


@dataclass(frozen=True, slots=True)
class Fonts:
    """Names of the plain and the bold font, as they are known to the library."""

    plain: str
    bold: str

    def legible(self, text: str) -> str:
        """The text with what the font lacks spelt without accents, or else as a question mark."""
        has = pdfmetrics.getFont(self.plain).face.charToGlyph
        return "".join(_spelt(letter, has) for letter in text.translate(_BLANKS))

    def wide(self, text: str, size: float, *, bold: bool = False) -> float:
        """Width of a line in points."""
        return float(pdfmetrics.stringWidth(text, self.bold if bold else self.plain, size))

    def cut(self, text: str, size: float, width: float, *, bold: bool = False) -> str:
        """As much of the text as fits into a width in points, with a sign that something is missing."""
        text = self.legible(text)
        if self.wide(text, size, bold=bold) <= width:
            return text
        while text and self.wide(f"{text}…", size, bold=bold) > width:
            text = text[:-1]
        return f"{text.rstrip()}…"


@cache
def fonts() -> Fonts:
    """The fonts to write with, made known to the library at the first asking."""
    folder, plain, bold = next(place for place in _PLACES if (place[0] / place[1]).is_file())
    found = Fonts(Path(plain).stem, Path(bold).stem)
    for name, file in ((found.plain, plain), (found.bold, bold)):
        pdfmetrics.registerFont(TTFont(name, str(folder / file)))
    return found


def _spelt(letter: str, has: dict[int, int]) -> str:
    if ord(letter) in has or letter in "\n\t":
        return letter
    bare = "".join(one for one in unicodedata.normalize("NFKD", letter) if ord(one) in has)
    return bare or "?"
