"""Files that mean harm or are damaged: each is answered with a sentence, and the station goes on."""

import struct

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.errors import Refused
from tests.mesh.asking import asked, refusal
from tests.mesh.bodies import TETRAHEDRON, WRITERS, box, model, obj, object_of, packed, ply, stl, stl_text, three_mf


def entities() -> bytes:
    lines = ['<!ENTITY a0 "lots of it">']
    lines += [f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10)]
    return packed(model(["&a9;"], "", prologue=f"<!DOCTYPE m [{''.join(lines)}]>"))


def bomb() -> bytes:
    return packed(b" " * (160 * 1024 * 1024))


def lying_bomb() -> bytes:
    """A directory that tells of ten bytes where two hundred megabytes follow."""
    made = bytearray(packed(b" " * (200 * 1024 * 1024)))
    at = made.rindex(b"PK\x01\x02")
    made[at + 24 : at + 28] = struct.pack("<I", 10)
    return bytes(made)


def looping() -> bytes:
    part = '<object id="{0}" type="model"><components><component objectid="{1}"/></components></object>'
    return packed(model([part.format(1, 2), part.format(2, 1)], '<item objectid="1"/>'))


def doubling() -> bytes:
    part = '<object id="{0}" type="model"><components>{1}</components></object>'
    rows = [object_of(*box(), key=1)]
    rows += [part.format(n, f'<component objectid="{n - 1}"/>' * 8) for n in range(2, 12)]
    return packed(model(rows, '<item objectid="11"/>'))


def locked() -> bytes:
    made = bytearray(three_mf(*box()))
    made[6] |= 1
    made[made.rindex(b"PK\x01\x02") + 8] |= 1
    return bytes(made)


PNG = b"\x89PNG\r\n\x1a\n" + bytes(200)
NO_NUMBER = stl_text(*box()).replace(b"5.0", b"nan", 1)
ENDLESS = stl(*box())[:-50] + struct.pack("<12fH", *[float("inf")] * 12, 0)
HARMFUL = [
    ("part.stl", b"", "The file is empty"),
    ("part.stl", stl(*box(), count=13), "says that it holds 13 facets, which take 734 bytes; it has 684"),
    ("part.stl", stl(*box(), count=2**32 - 1), "4,294,967,295 facets"),
    ("part.stl", stl(*box())[:-1], "cut off"),
    ("part.stl", bytes(40), "at least 84"),
    ("part.stl", bytes(84), "no facet"),
    ("part.stl", b"Dear mold maker,\nhere is the part.\n" * 20, "a text, not a mesh"),
    ("part.stl", PNG, "a picture (PNG), not a mesh"),
    ("part.obj", b"\xff\xd8\xff\xe0" + bytes(99), "a picture (JPEG), not a mesh"),
    ("part.stl", b"<!doctype html><p>Not found", "a page"),
    ("part.3mf", b"PK\x03\x04" + bytes(60), "cannot be unpacked"),
    ("part.3mf", three_mf(*box())[:-30], "cannot be unpacked"),
    ("part.3mf", packed(b"hello", "hello.txt"), "without a 3MF model"),
    ("part.3mf", packed(b"<model>"), "no proper XML"),
    ("part.3mf", packed(b"<a>" * 100), "nested too deeply"),
    ("part.3mf", bomb(), "more than 150 MB"),
    ("part.3mf", lying_bomb(), "cannot be unpacked"),
    ("part.3mf", entities(), "document type"),
    ("part.3mf", looping(), "hold each other too often"),
    ("part.3mf", doubling(), "hold each other too often"),
    ("part.3mf", locked(), "locked"),
    ("part.3mf", three_mf(*box(), unit="furlong"), "unknown unit ('furlong')"),
    ("part.3mf", packed(model([object_of(*box())], '<item objectid="7"/>')), "object '7' that is not in it"),
    ("part.3mf", packed(model([object_of(*box())], '<item objectid="1"/>').replace("v1=", "w1=")), "cannot be read"),
    ("part.ply", ply(*box(), counted=2**32 - 1), "4,294,967,295 facets; at most 1,000,000"),
    ("part.ply", ply(*box(), counted=900_000), "holds 900,000 facets; it has 12"),
    ("part.ply", ply(*box())[:90], "no end"),
    ("part.ply", ply(box()[0], box()[1][:0]), "no facet"),
    ("part.stl", NO_NUMBER, "is no number"),
    ("part.stl", ENDLESS, "is no number"),
    ("part.obj", obj(*box(10, 10, 0)), "no thickness along z"),
    ("part.obj", obj(*TETRAHEDRON).replace(b"f 1 3 2", b"f 1 3 99"), "file"),
    ("part.obj", b"v 0 0 0\nv 1 0 0\nv 0 1 0\n", "no facet"),
]


@pytest.mark.parametrize(("name", "content", "said"), HARMFUL, ids=range(len(HARMFUL)))
def test_a_harmful_file_gives_a_sentence(name, content, said):
    sentence = refusal(content, name)
    assert said in sentence
    assert sentence.endswith(".")
    assert "Traceback" not in sentence


@st.composite
def damaged(draw):
    """A valid file cut off, or with some bytes changed."""
    name = draw(st.sampled_from(sorted(WRITERS)))
    content = bytearray(WRITERS[name](*TETRAHEDRON))
    for _ in range(draw(st.integers(0, 6))):
        content[draw(st.integers(0, len(content) - 1))] = draw(st.integers(0, 255))
    return name, bytes(content[: draw(st.integers(len(content) // 4, len(content)))])


def answers(name: str, content: bytes) -> None:
    try:
        part = asked(content, name).positive
    except Refused:
        return
    else:
        assert part.facets > 0
        assert part.volume_cm3 is None or part.volume_cm3 > 0


LOOSE = {"suppress_health_check": [HealthCheck.too_slow], "database": None}


@given(damaged())
@settings(max_examples=15, **LOOSE)
def test_a_damaged_file_is_measured_or_refused(file):
    answers(*file)


@given(st.sampled_from(sorted(WRITERS)), st.binary(max_size=400))
@settings(max_examples=8, **LOOSE)
def test_any_bytes_are_measured_or_refused(name, content):
    answers(name, content)


@pytest.mark.soak
@given(damaged())
@settings(max_examples=500, **LOOSE)
def test_five_hundred_damaged_files_are_measured_or_refused(file):
    answers(*file)
