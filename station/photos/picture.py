"""One photo becomes another: upright, in plain colours, small enough, and with nothing told beside the picture.

Runs in the child; the only place that opens what a phone has sent.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import BinaryIO, Final

from PIL import Image, ImageCms

from station.errors import Refused
from station.photos.kinds import SMALLER, PhotoKind
from station.photos.limits import LONGEST_PX, MOST_PIXELS, SMALL_PX
from station.texts import t

_ORIENTATION: Final = 0x0112
"""The tag of Exif that says how the camera was held."""
_UPRIGHT: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_QUALITY: Final = 82
_WHITE: Final = (255, 255, 255)


@dataclass(frozen=True, slots=True)
class Made:
    """The picture and its small one, both JPEG, and the sides of the first in dots."""

    picture: bytes
    small: bytes
    wide: int
    high: int


def made(file: BinaryIO, kind: PhotoKind) -> Made:
    """What is kept of a photo. Raises Refused when it has too many dots or moves; whatever the library raises else."""
    # It only warns of pictures up to twice its own limit.
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS[kind]
    warnings.simplefilter("error", Image.DecompressionBombWarning)
    with Image.open(file, formats=[kind.name]) as photo:
        wide, high = photo.size
        if wide * high > MOST_PIXELS[kind]:
            raise too_many_dots(kind)
        # A JPEG of a phone often carries a second, smaller picture: it is the first that was meant.
        if kind is not PhotoKind.JPEG and getattr(photo, "n_frames", 1) > 1:
            raise Refused(t("It moves."), t("Send a photo that stands still."))
        turn = _UPRIGHT.get(_orientation(photo))
        profile = photo.info.get("icc_profile")
        # A JPEG can be read at a half, a quarter or an eighth, which saves memory.
        photo.draft("RGB", (LONGEST_PX, LONGEST_PX))
        plain = _plain(_reduced(photo, LONGEST_PX), profile)
    if turn is not None:
        plain = plain.transpose(turn)
    return Made(_as_jpeg(plain), _as_jpeg(_reduced(plain, SMALL_PX)), *plain.size)


def too_many_dots(kind: PhotoKind) -> Refused:
    """The sentence for a picture that is too large, whatever its file has in bytes."""
    words = t("It has more than {most} million dots.", most=MOST_PIXELS[kind] // 1_000_000)
    return Refused(words, t(SMALLER))


def _orientation(photo: Image.Image) -> int:
    try:
        return int(photo.getexif().get(_ORIENTATION, 1))
    except Exception:  # whatever stands beside the picture may be nonsense, and it is thrown away in any case
        return 1


def _reduced(photo: Image.Image, longest: int) -> Image.Image:
    """At most so many dots long, in a mode that can be made smaller smoothly."""
    photo.load()
    if photo.mode in ("P", "PA"):
        photo = photo.convert("RGBA" if photo.mode == "PA" or "transparency" in photo.info else "RGB")
    elif photo.mode == "1":
        photo = photo.convert("L")
    elif photo.mode.startswith("I"):
        photo = photo.convert("I")
    ratio = longest / max(photo.size)
    if ratio >= 1:
        return photo
    sides = max(1, round(photo.width * ratio)), max(1, round(photo.height * ratio))
    return photo.resize(sides, Image.Resampling.LANCZOS, reducing_gap=3.0)


def _plain(photo: Image.Image, profile: object) -> Image.Image:
    """In sRGB on white paper, and a picture of its own, so that nothing comes along that the file has told."""
    if photo.mode == "I":  # sixteen bits of grey
        photo = photo.point(lambda grey: grey * (1 / 257)).convert("L")
    if isinstance(profile, bytes) and photo.mode in ("RGB", "CMYK", "L"):
        photo = _in_srgb(photo, profile)
    paper = Image.new("RGB", photo.size, _WHITE)
    if "A" in photo.mode or "transparency" in photo.info:
        photo = photo.convert("RGBA")
        paper.paste(photo, mask=photo.getchannel("A"))
    else:
        paper.paste(photo.convert("RGB"))
    return paper


def _in_srgb(photo: Image.Image, profile: bytes) -> Image.Image:
    """Its colours as sRGB shows them; as they are when its profile is of no use."""
    try:
        meant = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        turned = ImageCms.profileToProfile(photo, meant, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return photo
    return photo if turned is None else turned


def _as_jpeg(photo: Image.Image) -> bytes:
    kept = io.BytesIO()
    photo.save(kept, "JPEG", quality=_QUALITY)
    return kept.getvalue()
