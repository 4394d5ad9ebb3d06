"""A PDF as a printer and a camera see it: pages rendered at 300 dots an inch, its text, and the codes on it."""

from __future__ import annotations

from dataclasses import dataclass

import pypdfium2
import zxingcpp
from PIL import Image

DPI = 300
MM = 25.4 / DPI
"""Millimetres of a dot."""


@dataclass(frozen=True)
class Seen:
    """A code: what it says, and the middle of it from the page's upper left corner, in mm."""

    text: str
    x: float
    y: float


class Printed:
    def __init__(self, content: bytes) -> None:
        self._pdf = pypdfium2.PdfDocument(content)
        self.pages = len(self._pdf)

    def size_mm(self, page: int = 0) -> tuple[float, float]:
        wide, high = self._pdf[page].get_size()
        return wide * 25.4 / 72, high * 25.4 / 72

    def picture(self, page: int = 0) -> Image.Image:
        return self._pdf[page].render(scale=DPI / 72).to_pil()

    def text(self) -> str:
        return " ".join(" ".join(self._pdf[page].get_textpage().get_text_range().split()) for page in range(self.pages))

    def images(self) -> int:
        kind = pypdfium2.raw.FPDF_PAGEOBJ_IMAGE
        return sum(1 for page in self._pdf for _ in page.get_objects(filter=[kind]))

    def codes(self, page: int = 0) -> list[Seen]:
        found = zxingcpp.read_barcodes(self.picture(page), formats=zxingcpp.BarcodeFormat.QRCode)
        return [_seen(one) for one in found]


def _seen(one: zxingcpp.Barcode) -> Seen:
    corners = (one.position.top_left, one.position.top_right, one.position.bottom_left, one.position.bottom_right)
    return Seen(one.text, sum(at.x for at in corners) / 4 * MM, sum(at.y for at in corners) / 4 * MM)
