"""The gallery paints a page in every way, and its own page shows all of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.browser.conftest import PHONE, Shop
from tests.browser.gallery import WAYS, Gallery

pytestmark = pytest.mark.browser


def test_a_page_is_painted_in_every_way_and_all_are_listed(shop: Shop, tmp_path: Path) -> None:
    gallery = Gallery(tmp_path / "shots", "bench")
    assert gallery.wants("bench free")
    assert not gallery.wants("log")
    with shop.page(PHONE) as page:
        gallery.take(page, "a bench <at work>")
    place = gallery.index()
    listed = place.read_text(encoding="utf-8")
    pictures = sorted(place.parent.glob("*.png"))
    assert len(pictures) == len(WAYS) == listed.count("<img")
    assert all(picture.name in listed for picture in pictures)
    assert "a bench &lt;at work&gt;" in listed
    looks = set()
    for picture in pictures:
        with Image.open(picture) as image:
            assert image.width == (360 if "phone" in picture.name else 1280)
            looks.add((image.size, image.convert("RGB").resize((8, 8)).tobytes()))
    assert len(looks) == len(WAYS), "two ways look alike"
