"""Every bad upload ends with a sentence, and takes no more than it may."""

import io
import random
import re
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from PIL import Image

from station.core.photo_events import MOST_BYTES
from station.errors import Refused
from station.photos import taking
from station.photos.taking import PhotoFault, take
from tests.photos.pictures import bomb, chunk, encoded, jpeg, jpeg_that_says, png_of, two_halves

NOT_WHOLE = "did not arrive whole, or it is damaged"
DOTS = "more than 50 million dots"


def moving(kind):
    return encoded(two_halves(60, 40), kind, save_all=True, append_images=[Image.new("RGB", (60, 40))])


BAD = {
    "empty": (b"", "empty"),
    "one byte": (b"\xff", "no picture"),
    "GIF": (encoded(two_halves(60, 40), "GIF"), "a picture [(]GIF[)], not a photo"),
    "BMP": (encoded(two_halves(60, 40), "BMP"), "BMP"),
    "TIFF": (encoded(two_halves(60, 40), "TIFF"), "TIFF"),
    "HTML": (b"<!doctype html><script>alert(1)</script>", "a page"),
    "SVG": (b'\n <svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "SVG"),
    "PDF": (b"%PDF-1.7\n", "document"),
    "zip": (b"PK\x03\x04" + bytes(60), "archive"),
    "HEIC": (b"\0\0\0\x24ftypheic\0\0\0\0mif1heic" + bytes(90), "HEIC or AVIF.*as JPEG"),
    "AVIF": (b"\0\0\0\x20ftypavif\0\0\0\0avifmif1" + bytes(90), "HEIC or AVIF.*as JPEG"),
    "text": (b"a photo, truly", "no picture"),
    "only a JPEG's first bytes": (b"\xff\xd8\xff\xe0", NOT_WHOLE),
    "only a PNG's first bytes": (b"\x89PNG\r\n\x1a\n", NOT_WHOLE),
    "only a WebP's first bytes": (b"RIFF\x10\0\0\0WEBP", NOT_WHOLE),
    "half a JPEG": (jpeg()[: len(jpeg()) // 2], NOT_WHOLE),
    "half a PNG": (encoded(two_halves(), "PNG")[:700], NOT_WHOLE),
    "half a WebP": (encoded(two_halves(), "WEBP")[:500], NOT_WHOLE),
    "a JPEG inside a PNG's name": (b"\x89PNG\r\n\x1a\n" + jpeg(), NOT_WHOLE),
    "a moving PNG": (moving("PNG"), "It moves"),
    "a moving WebP": (moving("WEBP"), "It moves"),
    "a bomb": (bomb(), DOTS),
    "a PNG that says 65500 each way": (png_of(65_500, 65_500, zlib.compress(b"\0" * 99)), DOTS),
    "a JPEG that says 65500 each way": (jpeg_that_says(65_500, 65_500), DOTS),
    "a PNG of no dots": (png_of(0, 0, b""), NOT_WHOLE),
    "a PNG with less than it says": (png_of(6000, 6000, zlib.compress(b"\0" * 999)), NOT_WHOLE),
    "a PNG with a bomb of words": (
        png_of(9, 9, b"", chunk(b"zTXt", b"words\0\0" + zlib.compress(bytes(60_000_000), 9))),
        NOT_WHOLE,
    ),
    "a PNG with a bomb of a profile": (
        png_of(4, 4, zlib.compress(bytes(4 * 13)), chunk(b"iCCP", b"p\0\0" + zlib.compress(bytes(60_000_000), 9))),
        NOT_WHOLE,
    ),
    "too many bytes": (b"\xff\xd8\xff" + bytes(MOST_BYTES), "at most 10 MB"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_photo_is_refused_with_a_sentence(name):
    content, says = BAD[name]
    with pytest.raises(Refused) as refused:
        take(io.BytesIO(content))
    assert re.search(says, refused.value.sentence())
    assert refused.value.sentence().endswith(".")


def test_changed_bytes_anywhere_give_a_picture_or_a_sentence():
    lot = random.Random(19)
    whole = [jpeg(80, 60), encoded(two_halves(80, 60), "PNG"), encoded(two_halves(80, 60), "WEBP")]
    ended = 0
    for turn in range(24):
        content = bytearray(whole[turn % 3])
        for _ in range(lot.randint(1, 9)):
            content[lot.randrange(len(content))] = lot.randrange(256)
        try:
            kept = take(io.BytesIO(content))
        except (Refused, PhotoFault) as no:
            ended += no.sentence().endswith(".")
        else:
            ended += kept.picture.startswith(b"\xff\xd8\xff")
    assert ended == 24


def test_the_limit_of_memory_holds(tmp_path):
    # Twenty-five million dots that the child, told of a smaller limit in a copy of the program, may not hold.
    program = "from station.photos import child; child.CHILD_BYTES = 100 * 2**20; child.main()"
    large = png_of(5000, 5000, zlib.compress(bytes(5000 * 15_001), 1))
    place = tmp_path / "large.png"
    place.write_bytes(large)
    with place.open("rb") as file:
        ran = subprocess.run(
            [sys.executable, "-c", program, "PNG", "en"],
            stdin=file,
            capture_output=True,
            check=False,
            env={"PYTHONPATH": str(Path(taking.__file__).parents[2])},
        )
    assert (ran.returncode, ran.stdout) == (0, b'{"memory": true}\n')
    with pytest.raises(Refused, match="more than the 512 MB"):
        taking._told(ran.stdout, taking.PhotoKind.PNG)
