"""Pictures to send: good ones of every kind, and bad ones of every kind. Made here, so that nothing is kept of them."""

from __future__ import annotations

import io
import struct
import zlib
from fractions import Fraction
from functools import cache

from PIL import Image

TOLD_BESIDE = b"told beside the picture"
"""What stands in the comment, the maker's note and the place of `with_place`."""


def two_halves(width: int = 900, height: int = 600) -> Image.Image:
    """Red to the left, blue to the right, and a green strip above."""
    picture = Image.new("RGB", (width, height), (200, 20, 20))
    picture.paste((20, 20, 200), (width // 2, 0, width, height))
    picture.paste((20, 160, 20), (0, 0, width, height // 6))
    return picture


def encoded(picture: Image.Image, kind: str, **how: object) -> bytes:
    """The file of a picture."""
    kept = io.BytesIO()
    picture.save(kept, kind, **how)
    return kept.getvalue()


def jpeg(width: int = 900, height: int = 600) -> bytes:
    return encoded(two_halves(width, height), "JPEG")


def with_place(orientation: int = 1, kind: str = "JPEG") -> bytes:
    """As a phone writes it: with the place, a maker's words, a comment, and how it was held."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = TOLD_BESIDE.decode()
    exif.get_ifd(0x8825).update({1: "N", 2: (Fraction(47), Fraction(11), Fraction(3)), 29: "2026:03:02"})
    exif.get_ifd(0x8769)[0x927C] = TOLD_BESIDE
    comment = {"comment": TOLD_BESIDE} if kind == "JPEG" else {}
    return encoded(two_halves(), kind, exif=exif, xmp=b"<x:xmpmeta>" + TOLD_BESIDE + b"</x:xmpmeta>", **comment)


def chunk(name: bytes, content: bytes) -> bytes:
    """A chunk of a PNG, whole."""
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png_of(width: int, height: int, content: bytes, before: bytes = b"") -> bytes:
    """A PNG of eight-bit RGB that says these sides, whatever its content."""
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + before + chunk(b"IDAT", content) + chunk(b"IEND", b"")


@cache
def bomb() -> bytes:
    """A PNG of less than a megabyte that unpacks to 156 MB of nothing: 7,200 dots each way."""
    return png_of(7200, 7200, zlib.compress(bytes(7200 * (1 + 3 * 7200)), 1))


def jpeg_that_says(width: int, height: int) -> bytes:
    """A JPEG whose head says other sides than its content has."""
    whole = bytearray(jpeg(64, 64))
    at = whole.index(b"\xff\xc0")
    whole[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(whole)


def segments(picture: bytes) -> list[tuple[int, bytes]]:
    """The segments of a JPEG before its scan (ISO/IEC 10918-1, B.1.1), read by hand: marker and content."""
    assert picture[:2] == b"\xff\xd8"
    found, at = [], 2
    while picture[at + 1] != 0xDA:
        assert picture[at] == 0xFF
        (length,) = struct.unpack(">H", picture[at + 2 : at + 4])
        found.append((picture[at + 1], picture[at + 4 : at + 2 + length]))
        at += 2 + length
    return found
