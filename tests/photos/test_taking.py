"""A photo becomes a plain small JPEG: upright, in right colours, with nothing told beside it."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from station.confined import asking
from station.errors import Refused
from station.photos.taking import PhotoFault, take
from tests.photos.pictures import TOLD_BESIDE, encoded, jpeg, segments, two_halves, with_place

PLAIN = {0xE0, 0xDB, 0xC0, 0xC4}
"""Segments of a JPEG that tell how it is packed: JFIF's head, quantisation, frame, Huffman tables."""


def taken(content: bytes):
    return take(io.BytesIO(content))


def shown(picture: bytes) -> Image.Image:
    return Image.open(io.BytesIO(picture))


def near(dot, red, green, blue):
    return all(abs(one - other) < 14 for one, other in zip(dot, (red, green, blue), strict=True))


def test_what_is_kept_is_at_most_1600_dots_long_and_its_small_one_320():
    kept = taken(jpeg(3000, 2000))
    assert (kept.wide, kept.high) == shown(kept.picture).size == (1600, 1067)
    assert shown(kept.small).size == (320, 213)
    assert near(shown(kept.picture).getpixel((100, 900)), 200, 20, 20)
    assert near(shown(kept.small).getpixel((300, 200)), 20, 20, 200)


def test_a_small_picture_stays_as_small_as_it_is():
    kept = taken(jpeg(90, 60))
    assert (kept.wide, kept.high) == shown(kept.small).size == (90, 60)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_place_maker_comment_and_profile_are_gone(kind):
    content = with_place(kind=kind)
    assert TOLD_BESIDE in content
    kept = taken(content)
    for picture in (kept.picture, kept.small):
        assert {marker for marker, _ in segments(picture)} <= PLAIN
        for words in (TOLD_BESIDE, b"Exif", b"xmp", b"ICC_PROFILE", b"2026"):
            assert words not in picture


@pytest.mark.parametrize(("orientation", "corner"), [(1, "top"), (3, "bottom"), (6, "right"), (8, "left"), (2, "top")])
def test_a_picture_held_another_way_is_turned_upright(orientation, corner):
    kept = taken(with_place(orientation))
    picture = shown(kept.picture)
    assert picture.size == ((600, 900) if orientation in (6, 8) else (900, 600))
    middle = picture.width // 2, picture.height // 2
    strip = {"top": (middle[0], 20), "bottom": (middle[0], picture.height - 20)} | {
        "right": (picture.width - 20, middle[1]),
        "left": (20, middle[1]),
    }
    assert near(picture.getpixel(strip[corner]), 20, 160, 20)
    assert shown(kept.small).size == ((213, 320) if orientation in (6, 8) else (320, 213))


def test_a_mirrored_picture_is_mirrored_back():
    assert near(shown(taken(with_place(2)).picture).getpixel((100, 400)), 20, 20, 200)


@pytest.mark.parametrize("mode", ["L", "1", "P", "RGBA", "LA", "CMYK", "I;16"])
def test_other_ways_of_writing_colours_come_out_as_they_look(mode):
    if mode == "I;16":
        picture = Image.new("I;16", (400, 300), 257 * 90)
    else:
        picture = Image.new("RGB", (400, 300), (90, 90, 90)).convert(mode)
    dot = shown(taken(encoded(picture, "JPEG" if mode == "CMYK" else "PNG")).picture)
    mean = dot.convert("L").resize((1, 1)).getpixel((0, 0))
    assert abs(mean - 90) < 8


def test_what_can_be_seen_through_lies_on_white():
    assert near(
        shown(taken(encoded(Image.new("RGBA", (40, 30), (0, 0, 0, 0)), "PNG")).picture).getpixel((5, 5)), *[255] * 3
    )
    palette = Image.new("P", (40, 30), 0)
    palette.putpalette([9, 9, 9] * 256)
    assert near(shown(taken(encoded(palette, "PNG", transparency=0)).picture).getpixel((5, 5)), *[255] * 3)


def test_colours_of_another_profile_are_turned_into_srgb():
    usual = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    # What is red in this one is blue for everybody else.
    swapped = usual.replace(b"rXYZ", b"none").replace(b"bXYZ", b"rXYZ").replace(b"none", b"bXYZ")
    picture = shown(taken(encoded(two_halves(), "JPEG", icc_profile=swapped)).picture)
    assert near(picture.getpixel((100, 400)), 20, 20, 200)


@pytest.mark.parametrize("profile", [ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes(), b"none at all"])
def test_a_profile_that_is_of_no_use_is_left_aside(profile):
    picture = shown(taken(encoded(two_halves(), "JPEG", icc_profile=profile)).picture)
    assert near(picture.getpixel((100, 400)), 200, 20, 20)


def test_the_first_of_the_two_pictures_that_phones_put_into_a_jpeg_is_taken():
    both = encoded(two_halves(), "MPO", save_all=True, append_images=[Image.new("RGB", (90, 60))])
    assert near(shown(taken(both).picture).getpixel((100, 400)), 200, 20, 20)


def test_a_very_long_picture_keeps_at_least_one_dot_across():
    kept = taken(encoded(Image.new("RGB", (20_000, 3)), "PNG"))
    assert (kept.wide, kept.high) == (1600, 1)
    assert shown(kept.small).size == (320, 1)


def test_one_that_takes_too_long_is_ended_and_the_next_one_is_taken():
    with pytest.raises(Refused, match="too long"):
        take(io.BytesIO(jpeg()), wall_s=0.01)
    assert children() == []
    assert taken(jpeg()).wide == 900


def test_a_process_that_dies_or_cannot_start_is_a_fault(monkeypatch):
    with monkeypatch.context() as broken:
        broken.setattr(asking.sys, "executable", "/bin/false")
        with pytest.raises(PhotoFault, match="without an answer"):
            taken(jpeg())
        broken.setattr(asking.sys, "executable", "/nowhere/python")
        with pytest.raises(PhotoFault, match="could not be started"):
            taken(jpeg())


@pytest.mark.parametrize(
    "answer",
    [
        b"no json\n",
        b"[1]\n",
        b'{"wide": 1, "high": 1, "picture": 4, "small": 4}\n<scr<scr',
        b'{"wide": 1, "high": 1, "picture": 4, "small": 4}\n\xff\xd8\xff\xe0',
        b'{"wide": 9999, "high": 1, "picture": 3, "small": 3}\n\xff\xd8\xff\xff\xd8\xff',
        b'{"wide": "1", "high": 1, "picture": 3, "small": 3}\n\xff\xd8\xff\xff\xd8\xff',
    ],
)
def test_an_answer_that_makes_no_sense_is_not_believed(monkeypatch, tmp_path, answer):
    said = tmp_path / "said"
    said.write_bytes(answer)
    program = tmp_path / "python"
    program.write_text(f"#!/bin/sh\nexec cat {said}\n")
    program.chmod(0o755)
    monkeypatch.setattr(asking.sys, "executable", str(program))
    with pytest.raises(PhotoFault, match=r"cannot be read|makes no sense"):
        taken(jpeg())


def test_nothing_is_left_behind(tmp_path, monkeypatch):
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    before = len(os.listdir("/proc/self/fd"))
    taken(jpeg())
    with pytest.raises(Refused):
        taken(jpeg()[:3000])
    assert list(tmp_path.iterdir()) == []
    assert len(os.listdir("/proc/self/fd")) == before
    assert children() == []


def children() -> list[str]:
    """Processes of this one that open photos, or have and were not waited for."""
    pids = Path(f"/proc/self/task/{os.getpid()}/children").read_text().split()
    told = {pid: Path(f"/proc/{pid}/cmdline").read_bytes() for pid in pids}
    return [pid for pid, said in told.items() if not said or b"station.photos.child" in said]


def test_the_parent_needs_nothing_that_opens_pictures():
    program = "import sys, station.photos.taking; print('PIL' in sys.modules)"
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=True, cwd=Path(__file__).parents[2]
    )
    assert ran.stdout == b"False\n"
