"""What a file that was sent as a photo really is, judged from its first bytes and its length, never from its name."""

from __future__ import annotations

from enum import Enum
from typing import Final

from station.confined.limits import MB
from station.core.photo_events import MOST_BYTES
from station.errors import Refused

HEAD: Final = 64
"""As many bytes of a file as `judged` wants to see."""
ACCEPTED: Final = "Send a JPEG, PNG or WebP picture."


class PhotoKind(Enum):
    """A kind of picture that is taken; the value is its name."""

    JPEG = "JPEG"
    PNG = "PNG"
    WEBP = "WebP"


_HEIF: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis")
_OTHERS: Final = (
    (b"GIF8", "a picture (GIF)"),
    (b"BM", "a picture (BMP)"),
    (b"II*\0", "a picture (TIFF)"),
    (b"MM\0*", "a picture (TIFF)"),
    (b"%PDF", "a document (PDF)"),
    (b"PK\x03\x04", "a zip archive"),
    (b"\x7fELF", "a program"),
    (b"<", "a page, or a drawing of marks (SVG)"),
    (b"\xef\xbb\xbf<", "a page, or a drawing of marks (SVG)"),
)


def judged(head: bytes, length: int) -> PhotoKind:
    """The kind of a file that begins with `head` and has `length` bytes. Raises Refused."""
    if length == 0:
        raise Refused("It is empty.", "Take the photo again.")
    if length > MOST_BYTES:
        words = f"It has {length / MB:.1f} MB; at most {MOST_BYTES // MB} MB are taken."
        raise Refused(words, "Send it smaller: most phones offer that when a photo is chosen.")
    if head.startswith(b"\xff\xd8\xff"):
        return PhotoKind.JPEG
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return PhotoKind.PNG
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP":
        return PhotoKind.WEBP
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF:
        raise Refused(
            "It is a HEIC or AVIF picture, which the station cannot open.",
            "Let the phone take photos as JPEG (in its camera's settings: most compatible), or send it as JPEG.",
        )
    what = next((words for mark, words in _OTHERS if head.lstrip().startswith(mark)), "")
    raise Refused(f"It is {what}, not a photo." if what else "It is no picture.", ACCEPTED)
