"""What a file that was sent as a photo really is, judged from its first bytes and its length, never from its name."""

from __future__ import annotations

from enum import Enum
from typing import Final

from station.confined.limits import MB
from station.core.photo_events import MOST_BYTES
from station.errors import Refused
from station.texts import N_, number, t

HEAD: Final = 64
"""As many bytes of a file as `judged` wants to see."""
ACCEPTED: Final = N_("Send a JPEG, PNG or WebP picture.")
SMALLER: Final = N_("Send it smaller: most phones offer that when a photo is chosen.")
_NO_PICTURE: Final = N_("It is no picture.")


class PhotoKind(Enum):
    """A kind of picture that is taken; the value is its name."""

    JPEG = "JPEG"
    PNG = "PNG"
    WEBP = "WebP"


_HEIF: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis")
_OTHERS: Final = (
    (b"GIF8", N_("It is a picture (GIF), not a photo.")),
    (b"BM", N_("It is a picture (BMP), not a photo.")),
    (b"II*\0", N_("It is a picture (TIFF), not a photo.")),
    (b"MM\0*", N_("It is a picture (TIFF), not a photo.")),
    (b"%PDF", N_("It is a document (PDF), not a photo.")),
    (b"PK\x03\x04", N_("It is a zip archive, not a photo.")),
    (b"\x7fELF", N_("It is a program, not a photo.")),
    (b"<", N_("It is a page, or a drawing of marks (SVG), not a photo.")),
    (b"\xef\xbb\xbf<", N_("It is a page, or a drawing of marks (SVG), not a photo.")),
)


def judged(head: bytes, length: int) -> PhotoKind:
    """The kind of a file that begins with `head` and has `length` bytes. Raises Refused."""
    if length == 0:
        raise Refused(t("It is empty."), t("Take the photo again."))
    if length > MOST_BYTES:
        size = number(length / MB, ".1f")
        raise Refused(t("It has {size} MB; at most {most} MB are taken.", size=size, most=MOST_BYTES // MB), t(SMALLER))
    if head.startswith(b"\xff\xd8\xff"):
        return PhotoKind.JPEG
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return PhotoKind.PNG
    if head.startswith(b"RIFF") and head[8:12] == b"WEBP":
        return PhotoKind.WEBP
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF:
        raise Refused(
            t("It is a HEIC or AVIF picture, which the station cannot open."),
            t("Let the phone take photos as JPEG (in its camera's settings: most compatible), or send it as JPEG."),
        )
    lead = head.lstrip()
    raise Refused(t(next((words for mark, words in _OTHERS if lead.startswith(mark)), _NO_PICTURE)), t(ACCEPTED))
